import { mkdtemp, readFile, realpath, rename, rm } from 'node:fs/promises';
import { createWriteStream } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { once } from 'node:events';
import { DICTIONARY } from '../dictionary.ts';
import { noEpisodesFile, noSuchFolder, notUtf8, symbolicLink, unreadableRest } from '../problems/files.ts';
import type { RowPseudonymiser } from '../privacy/pseudonymise-row.ts';
import { pseudonymiser } from '../privacy/pseudonymise-row.ts';
import { detectDelimiter, firstLine } from '../reading/delimiter.ts';
import type { TableName } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import { csvRows } from './csv-rows.ts';
import { inspect, kindOfEntry } from './inspect.ts';
import { makeFolder } from './make-folder.ts';
import { codeMaker, readKey } from './key-file.ts';
import { FolderError, requireEmptyFolder } from './quarantine.ts';

/** What became of one file. */
export interface PseudonymisedFile {
  readonly file: string;
  readonly rows: number;
  /** Values left blank because the dictionary does not allow them, so that nothing identifying passes with them. */
  readonly blanked: number;
  /** Columns left out. */
  readonly dropped: number;
}

/**
 * Writes a copy of an export in which no code is that of the clinic any more: every code is replaced by a
 * keyed hash, birth dates by ages, columns that the dictionary does not know are left out, and so are
 * values that it does not allow. The same key gives the same codes. The export is not changed.
 *
 * @throws FolderError if the key lies in one of the folders, or the folder to write to is not empty or in the export
 * @throws UnusableExport if a file cannot be read to its end: half a copy would be taken for whole
 */
export async function pseudonymise(
  exportFolder: string,
  outFolder: string,
  keyFile: string,
): Promise<readonly PseudonymisedFile[]> {
  await requireEmptyFolder(outFolder);
  await requireApart(exportFolder, outFolder, keyFile);
  const codes = codeMaker(await readKey(keyFile));
  await requireReadable(exportFolder);
  const parent = dirname(resolve(outFolder));
  await makeFolder(parent);
  const unfinished = await mkdtemp(join(parent, `${basename(outFolder)}.unfinished-`));
  try {
    const done: PseudonymisedFile[] = [];
    for (const name of TABLE_NAMES) {
      const { file } = DICTIONARY[name];
      if ((await kindOfEntry(join(exportFolder, file))) !== 'file') continue;
      done.push(
        await rewrite(
          join(exportFolder, file),
          join(unfinished, file),
          name,
          pseudonymiser(DICTIONARY[name], codes),
        ),
      );
    }
    await copyDescription(exportFolder, unfinished);
    await rm(outFolder, { recursive: true, force: true });
    await rename(unfinished, outFolder);
    return done;
  } catch (error) {
    await rm(unfinished, { recursive: true, force: true });
    throw error;
  }
}

async function requireReadable(folder: string): Promise<void> {
  if ((await realpath(folder).catch(() => undefined)) === undefined)
    throw new UnusableExport([noSuchFolder(folder)]);
  for (const name of TABLE_NAMES) {
    const { file } = DICTIONARY[name];
    const entry = await kindOfEntry(join(folder, file));
    if (entry === 'link') throw new UnusableExport([symbolicLink(file)]);
    if (entry === 'other' && name === 'episodes') throw new UnusableExport([noEpisodesFile()]);
  }
}

/** The key must not travel with what it protects, and the copy must not lie in the original. */
export async function requireApart(exportFolder: string, outFolder: string, keyFile: string): Promise<void> {
  const source = await real(exportFolder);
  const out = await real(outFolder);
  const key = await real(keyFile);
  for (const [folder, what] of [
    [source, 'the export'],
    [out, 'the folder to write to'],
  ] as const) {
    if (within(key, folder)) {
      throw new FolderError(`${keyFile} lies in ${what}; allowed: a key file kept apart from both`);
    }
  }
  if (within(out, source) || within(source, out)) {
    throw new FolderError(`${outFolder} and the export lie within one another; allowed: a folder apart`);
  }
}

const within = (path: string, folder: string): boolean => path === folder || path.startsWith(`${folder}/`);

/** The path without links, as far as there is anything at it. */
async function real(path: string): Promise<string> {
  const whole = resolve(path);
  const known = await realpath(whole).catch(() => undefined);
  if (known !== undefined) return known;
  const parent = dirname(whole);
  return parent === whole ? whole : join(await real(parent), basename(whole));
}

async function rewrite(
  from: string,
  to: string,
  name: TableName,
  row: RowPseudonymiser,
): Promise<PseudonymisedFile> {
  const { file, fields } = DICTIONARY[name];
  const bytes = await inspect(from);
  if (!bytes.readable) throw new UnusableExport([notUtf8(file)]);
  const delimiter = detectDelimiter(firstLine(bytes.head), new Set(fields.map(field => field.name)));
  const out = createWriteStream(to, { mode: 0o600 });
  let rows = -1;
  const broken = await csvRows(from, bytes, delimiter, file, cells => {
    if (cells.every(cell => cell.trim() === '')) return;
    out.write(`${(rows === -1 ? row.header(cells) : row.row(cells)).join(',')}\n`);
    rows++;
  });
  out.end();
  await once(out, 'finish');
  if (broken !== undefined) throw new UnusableExport([unreadableRest(file, rows + 2, broken)]);
  return { file, rows: Math.max(0, rows), blanked: row.blanked(), dropped: row.dropped() };
}

/** Only the dates of the description are copied: a name of the service may be told apart from the data. */
async function copyDescription(from: string, to: string): Promise<void> {
  const path = join(from, 'export.yaml');
  if ((await kindOfEntry(path)) !== 'file') return;
  const text = await readFile(path, 'utf8');
  const lines = text
    .split(/\r\n|\n|\r/)
    .filter(line => /^(cut_off|exported_at): ?['"]?[\d:.TZ+ -]{10,40}['"]?\s*$/.test(line));
  const out = createWriteStream(join(to, 'export.yaml'), { mode: 0o600 });
  out.end(lines.map(line => `${line}\n`).join(''));
  await once(out, 'finish');
}
