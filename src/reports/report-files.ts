import { canonicalJson } from './canonical-json.ts';
import { csvText } from './csv.ts';
import { dataTables } from './data-tables.ts';
import { figuresOf, type ReportDocument } from './document.ts';
import { type DrawnFigures, drawFigures } from './drawn-figures.ts';
import { type FindingsInput, findingsJson } from './findings-document.ts';
import { renderHtml } from './html/render-html.ts';
import { type PdfSource, pdfSource } from './pdf/pdf-source.ts';
import { workbook } from './workbook.ts';

/** A file of a published report: its path with `/`, and its text or its bytes. */
export type ReportFile =
  | { readonly path: string; readonly text: string }
  | { readonly path: string; readonly bytes: Uint8Array };

/** What makes the formats that need fonts, which a browser has to be given; a format without a maker is left out. */
export interface FormatMakers {
  readonly png?: (svg: string) => Promise<Uint8Array>;
  readonly pdf?: (source: PdfSource) => Promise<Uint8Array>;
}

const DAY = 86_400_000;

/**
 * Every file of a published report, by path in code-point order: the page, the findings, the tables as CSV and as one
 * workbook, the figures as SVG, as PNG and as Vega-Lite specifications, and the PDF. The same input gives the same bytes.
 */
export async function reportFiles(
  document: ReportDocument,
  input: FindingsInput,
  makers: FormatMakers = {},
): Promise<readonly ReportFile[]> {
  const drawn = await drawFigures(document);
  const { cutOff } = input.provenance;
  const files: readonly ReportFile[] = [
    { path: 'index.html', text: renderHtml(document, drawn) },
    { path: 'findings.json', text: findingsJson(input) },
    ...(makers.pdf === undefined
      ? []
      : [{ path: 'report.pdf', bytes: await makers.pdf(pdfSource(document, drawn, cutOff)) }]),
    ...(await tableFiles(input)),
    ...(await figureFiles(document, drawn, makers)),
  ];
  return [...files].sort((a, b) => (a.path < b.path ? -1 : 1));
}

async function tableFiles(input: FindingsInput): Promise<readonly ReportFile[]> {
  const tables = dataTables(input);
  return [
    { path: 'tables/tables.xlsx', bytes: await workbook(tables, input.provenance.cutOff * DAY) },
    ...tables.map(({ name, header, rows }) => ({
      path: `tables/${fileName(name)}.csv`,
      text: csvText(header, rows),
    })),
  ];
}

async function figureFiles(
  document: ReportDocument,
  drawn: DrawnFigures,
  { png }: FormatMakers,
): Promise<readonly ReportFile[]> {
  const files: ReportFile[] = [];
  for (const figure of figuresOf(document)) {
    const svg = drawn.get(figure.key)?.page ?? '';
    const path = `figures/${fileName(figure.key)}`;
    files.push({ path: `${path}.svg`, text: `${svg}\n` });
    files.push({ path: `${path}.vl.json`, text: canonicalJson(figure.specs.page) });
    if (png !== undefined) files.push({ path: `${path}.png`, bytes: await png(svg) });
  }
  return files;
}

function fileName(key: string): string {
  return key.replace(/[^A-Za-z0-9.-]+/g, '-');
}
