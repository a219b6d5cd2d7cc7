import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { mkdtemp, readdir, rename, rm } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { DICTIONARY } from '../dictionary.ts';
import { changedWhileRead } from '../problems/files.ts';
import type { ExportRecords, Problem, SourceFile } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import { makeFolder } from './make-folder.ts';
import { linesOf } from './lines.ts';
import type { SetAside } from './set-aside.ts';
import { SET_ASIDE } from './set-aside.ts';
import { sheetLines } from './workbook.ts';

/** What the quarantine needs to know of a file. */
type Refused = Pick<SourceFile, 'file' | 'path' | 'sheet' | 'sha256' | 'header' | 'refusedLines'>;

/**
 * Writes what was refused into a folder: for each file with refused rows a file of the same name that holds its header
 * and those rows byte for byte, ready to be corrected and read again (the rows of a workbook as CSV), `set-aside.json`
 * that says where they come from, and `problems.csv` with every problem kept. Its rows are as the clinic wrote them, so
 * they may identify persons: the folder is made for its owner alone, and must not be published.
 * Gives the names of the files written: all of them, or none and no folder.
 *
 * @throws FolderError if the folder is not empty: a file in it may be half corrected
 * @throws UnusableExport if a file is no longer the one that was read
 */
export async function writeQuarantine(
  exportFolder: string,
  records: ExportRecords,
  quarantineFolder: string,
): Promise<readonly string[]> {
  await requireEmptyFolder(quarantineFolder);
  const target = resolve(quarantineFolder);
  await makeFolder(dirname(target));
  const unfinished = await mkdtemp(join(dirname(target), `.${basename(target)}.unfinished-`));
  try {
    const written = await writeAll(exportFolder, records, unfinished);
    await rename(unfinished, target);
    return written;
  } catch (error) {
    await rm(unfinished, { recursive: true, force: true });
    throw error;
  }
}

async function writeAll(
  exportFolder: string,
  records: ExportRecords,
  folder: string,
): Promise<readonly string[]> {
  const written: string[] = [];
  const listed: SetAside['files'] = [];
  for (const source of refusedSources(exportFolder, records)) {
    if (source.refusedLines.length === 0) continue;
    const name = freeName(quarantineName(source), written);
    const ranges = [...(source.header ?? []), ...source.refusedLines];
    const content = source.sheet === undefined ? linesWithin(source, ranges) : sheetLines(source, ranges);
    await write(join(folder, name), content);
    written.push(name);
    listed.push({
      file: source.file,
      sha256: source.sha256,
      ...(source.sheet === undefined ? {} : { sheet: source.sheet }),
      lines: pairs(source.refusedLines),
      rows: name,
    });
  }
  if (listed.length > 0) {
    await write(join(folder, SET_ASIDE), [`${JSON.stringify({ version: 1, files: listed })}\n`]);
    written.push(SET_ASIDE);
  }
  if (records.problems.length > 0) {
    await write(join(folder, 'problems.csv'), problemLines(records.problems));
    written.push('problems.csv');
  }
  return written;
}

/** A place to write to that cannot be used. */
export class FolderError extends Error {
  override readonly name = 'FolderError';
}

/** @throws FolderError unless there is nothing at the path yet, or a folder with nothing in it */
export async function requireEmptyFolder(path: string): Promise<void> {
  const entries = await readdir(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [];
    throw new FolderError(`${path} cannot be written to (${error.code}); allowed: a new or empty folder`);
  });
  if (entries.length > 0) throw new FolderError(`${path} is not empty; allowed: a new or empty folder`);
}

function refusedSources(folder: string, records: ExportRecords): readonly Refused[] {
  return (
    records.sources ??
    TABLE_NAMES.map(name => ({
      file: DICTIONARY[name].file,
      path: join(folder, DICTIONARY[name].file),
      sheet: undefined,
      sha256: records.counts[name].sha256,
      header: records.headerLines[name],
      refusedLines: records.refusedLines[name],
    }))
  );
}

function quarantineName({ path, sheet }: Refused): string {
  const name = basename(path);
  return sheet === undefined ? name : `${name}.${sheet.replace(/[^\p{L}\p{N}_-]+/gu, '-')}.csv`;
}

/** A name that no file in the quarantine has yet. */
function freeName(name: string, taken: readonly string[]): string {
  const dot = name.lastIndexOf('.');
  for (let i = 1; ; i++) {
    const free = i === 1 ? name : `${name.slice(0, dot)}.${i}${name.slice(dot)}`;
    if (!taken.includes(free)) return free;
  }
}

function pairs(lines: Int32Array): [number, number][] {
  return Array.from({ length: lines.length / 2 }, (_, i) => [lines[2 * i] ?? 0, lines[2 * i + 1] ?? 0]);
}

function write(path: string, content: Iterable<string> | AsyncIterable<Uint8Array | string>): Promise<void> {
  return pipeline(content, createWriteStream(path, { mode: 0o600, flags: 'wx' }));
}

/** The lines within some ranges, given as pairs of first and last line in ascending order. */
async function* linesWithin(
  { file, path, sha256 }: Refused,
  ranges: readonly number[],
): AsyncGenerator<Uint8Array> {
  const hash = createHash('sha256');
  async function* hashed(): AsyncGenerator<Uint8Array> {
    for await (const chunk of createReadStream(path) as AsyncIterable<Buffer>) {
      hash.update(chunk);
      yield chunk;
    }
  }
  let pair = 0;
  for await (const { line, bytes } of linesOf(hashed())) {
    while (pair < ranges.length && line > (ranges[pair + 1] as number)) pair += 2;
    if (line >= (ranges[pair] ?? Number.POSITIVE_INFINITY)) yield bytes;
  }
  if (hash.digest('hex') !== sha256) throw new UnusableExport([changedWhileRead(file)]);
}

const PROBLEM_COLUMNS = ['file', 'line', 'field', 'value', 'severity', 'kind', 'problem'] as const;

function* problemLines(problems: readonly Problem[]): Generator<string> {
  yield `${PROBLEM_COLUMNS.join(',')}\n`;
  for (const { file, line, field, value, severity, kind, message } of problems) {
    const cells = [file, line?.toString(), field, value, severity, kind, message];
    yield `${cells.map(cell => quotedCell(cell ?? '')).join(',')}\n`;
  }
}

/** A text that a spreadsheet would take for a formula is led by an apostrophe. */
function quotedCell(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
