import { join, resolve } from 'node:path';
import { type Face, fontFile } from '../publish/font-files.ts';
import { type Coverage, glyphCoverage, shownText } from './glyph-coverage.ts';
import type { PdfSource } from './pdf-source.ts';

const FACES: readonly Face[] = [
  'DejaVuSans',
  'DejaVuSans-Bold',
  'DejaVuSans-Oblique',
  'DejaVuSans-BoldOblique',
  'DejaVuSansCondensed',
  'DejaVuSansCondensed-Bold',
  'DejaVuSansCondensed-Oblique',
  'DejaVuSansMono',
];

/** A place that need not exist: every file the typesetter sees is handed over. */
const ROOM = resolve('/forefoot-report');

/**
 * Sets a report as a tagged PDF (PDF/UA-1) with bookmarks, without a browser and without a request. The same source
 * gives the same bytes.
 *
 * @throws Error if the typesetter refuses or warns, with its words: that is a fault of the template
 */
export async function compilePdf(source: PdfSource): Promise<Uint8Array> {
  // Loaded only here: its native part is optional, and nothing but a PDF needs it.
  const { NodeCompiler } = await import('@myriaddreamin/typst-ts-node-compiler');
  const fonts = await Promise.all(FACES.map(fontFile));
  const compiler = NodeCompiler.create({ fontArgs: [{ fontBlobs: fonts }], workspace: ROOM });
  // A character is kept if it can be shown wherever it may stand.
  const covered = FACES.map((_, i) => glyphCoverage(fonts[i] ?? new Uint8Array()));
  const covers: Coverage = code => covered.every(face => face(code));
  const shown = (_key: string, value: unknown): unknown =>
    typeof value === 'string' ? shownText(value, covers) : value;
  const give = (name: string, text: string): void =>
    compiler.mapShadow(join(ROOM, name), Buffer.from(text, 'utf8'));
  give('report.json', JSON.stringify(source.report, shown));
  for (const [name, svg] of source.drawings) give(name, shownText(svg, covers));
  const compiled = compiler.compile({ mainFileContent: source.template });
  const document = compiled.result;
  const trouble = compiled.takeDiagnostics();
  if (document === null || trouble !== null) {
    throw new Error(
      `the PDF cannot be set: ${JSON.stringify(trouble?.shortDiagnostics ?? 'no reason given')}`,
    );
  }
  try {
    const made = compiler.pdf(document, { pdfStandard: 'ua-1', creationTimestamp: source.made * 86_400 });
    return new Uint8Array(made);
  } catch (error) {
    throw new Error(`the PDF cannot be set: ${error instanceof Error ? error.message : String(error)}`, {
      cause: error,
    });
  }
}
