import { isUtf8 } from 'node:buffer';
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { CsvError, parse } from 'csv-parse';
import type { Plan } from '../../plan/plan.ts';
import { defaultPlan } from '../../plan/plan.ts';
import { DICTIONARY } from '../dictionary.ts';
import { noSuchFolder, notUtf8 } from '../problems/files.ts';
import { csvOptions } from '../reading/csv-options.ts';
import { detectDelimiter, firstLine } from '../reading/delimiter.ts';
import { startReading } from '../reading/read-export.ts';
import type { TableReader } from '../reading/read-table.ts';
import type { ExportRecords, TableName } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';

export interface ReadFolderOptions {
  /** Its phases are those that `prescribed_hours` may hold; the default plan if left out. */
  readonly plan?: Plan;
  /** Called now and then with the rows of a file read so far. */
  readonly onProgress?: (file: string, rows: number) => void;
}

const CHUNK = 262_144;
const ROWS_BETWEEN_PROGRESS = 65_536;
const LONGEST_DESCRIPTION = 65_536;

/**
 * Reads and checks an export folder: CSV files in UTF-8 with or without byte order mark, any line ends, separated by
 * comma, semicolon or tab (told from the header of each file). Nothing in the folder is changed, and no more than a
 * chunk of a file is held besides its columns.
 *
 * @throws UnusableExport if there is no such folder, no episodes.csv, or none of its required columns
 */
export async function readExport(folder: string, options: ReadFolderOptions = {}): Promise<ExportRecords> {
  const { plan = defaultPlan(), onProgress = () => {} } = options;
  if (!(await isFolder(folder))) throw new UnusableExport([noSuchFolder(folder)]);
  const reading = startReading(plan, await descriptionText(join(folder, 'export.yaml')));
  for (const name of TABLE_NAMES) {
    const path = join(folder, DICTIONARY[name].file);
    if (!(await isFile(path))) {
      reading.absent(name);
      continue;
    }
    const bytes = await inspect(path);
    const reader = reading.open(name);
    if (bytes.utf8) await readRows(path, bytes.head, name, reader, onProgress);
    else reader.broken(notUtf8(DICTIONARY[name].file));
    reading.close(bytes.sha256);
  }
  return reading.finish();
}

async function isFolder(path: string): Promise<boolean> {
  return (await stat(path).catch(() => undefined))?.isDirectory() ?? false;
}

async function isFile(path: string): Promise<boolean> {
  return (await stat(path).catch(() => undefined))?.isFile() ?? false;
}

async function descriptionText(path: string): Promise<string | undefined> {
  if (!(await isFile(path))) return undefined;
  const { size } = await stat(path);
  return size > LONGEST_DESCRIPTION ? '\0' : readFile(path, 'utf8');
}

interface Bytes {
  readonly sha256: string;
  readonly utf8: boolean;
  /** The beginning of the file. */
  readonly head: string;
}

/** Goes once through the bytes of a file: their hash, and whether they are text in UTF-8. */
async function inspect(path: string): Promise<Bytes> {
  const hash = createHash('sha256');
  let head: string | undefined;
  let utf8 = true;
  let rest: Buffer = Buffer.alloc(0);
  for await (const chunk of createReadStream(path, { highWaterMark: CHUNK }) as AsyncIterable<Buffer>) {
    hash.update(chunk);
    head ??= chunk.toString('utf8');
    if (!utf8) continue;
    const bytes = rest.length === 0 ? chunk : Buffer.concat([rest, chunk]);
    const whole = wholeCharacters(bytes);
    utf8 = isUtf8(bytes.subarray(0, whole)) && !chunk.includes(0);
    rest = bytes.subarray(whole);
  }
  return { sha256: hash.digest('hex'), utf8: utf8 && isUtf8(rest), head: head ?? '' };
}

/** Bytes up to the last character, where that one is not whole yet. */
function wholeCharacters(bytes: Buffer): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back++) {
    const byte = bytes[bytes.length - back] ?? 0;
    if (byte >= 0xc0) return bytes.length - back;
    if (byte < 0x80) break;
  }
  return bytes.length;
}

async function readRows(
  path: string,
  head: string,
  name: TableName,
  reader: TableReader,
  onProgress: (file: string, rows: number) => void,
): Promise<void> {
  const { file, fields } = DICTIONARY[name];
  const delimiter = detectDelimiter(firstLine(head), new Set(fields.map(field => field.name)));
  const source = createReadStream(path, { highWaterMark: CHUNK });
  const parser = source.pipe(parse(csvOptions(delimiter)));
  source.on('error', error => parser.destroy(error));
  try {
    let next = ROWS_BETWEEN_PROGRESS;
    for await (const cells of parser as AsyncIterable<string[]>) {
      reader.row(cells);
      if (reader.rowsSoFar >= next) {
        onProgress(file, reader.rowsSoFar);
        next += ROWS_BETWEEN_PROGRESS;
      }
    }
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    reader.broken(error.code === 'CSV_MAX_RECORD_SIZE' ? 'length' : 'quote');
  } finally {
    source.destroy();
  }
}
