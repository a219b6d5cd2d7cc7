import { createReadStream, createWriteStream } from 'node:fs';
import { mkdir, readdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { DICTIONARY } from '../dictionary.ts';
import type { ExportRecords, Problem } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { linesOf } from './lines.ts';

/**
 * Writes what was refused into a folder: for each file with refused rows a file of the same name that holds its header
 * and those rows byte for byte, ready to be corrected and read again, and `problems.csv` with every problem kept.
 * Gives the names of the files written.
 *
 * @throws FolderError if the folder is not empty: a file in it may be half corrected
 */
export async function writeQuarantine(
  exportFolder: string,
  records: ExportRecords,
  quarantineFolder: string,
): Promise<readonly string[]> {
  await requireEmptyFolder(quarantineFolder);
  await mkdir(quarantineFolder, { recursive: true });
  const written: string[] = [];
  for (const name of TABLE_NAMES) {
    const refused = records.refusedLines[name];
    if (refused.length === 0) continue;
    const { file } = DICTIONARY[name];
    const ranges = [...(records.headerLines[name] ?? []), ...refused];
    await write(quarantineFolder, file, linesWithin(join(exportFolder, file), ranges));
    written.push(file);
  }
  if (records.problems.length > 0) {
    await write(quarantineFolder, 'problems.csv', problemLines(records.problems));
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

/** A file is written under another name first, so that one cut short is not taken for whole. */
async function write(
  folder: string,
  file: string,
  content: Iterable<string> | AsyncIterable<Uint8Array>,
): Promise<void> {
  const unfinished = join(folder, `${file}.unfinished`);
  try {
    await pipeline(content, createWriteStream(unfinished));
    await rename(unfinished, join(folder, file));
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
}

/** The lines within some ranges, given as pairs of first and last line in ascending order. */
async function* linesWithin(path: string, ranges: readonly number[]): AsyncGenerator<Uint8Array> {
  let pair = 0;
  for await (const { line, bytes } of linesOf(createReadStream(path))) {
    while (pair < ranges.length && line > (ranges[pair + 1] as number)) pair += 2;
    if (pair >= ranges.length) return;
    if (line >= (ranges[pair] as number)) yield bytes;
  }
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
