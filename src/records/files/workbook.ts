import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import type { CellValue } from 'hucre/xlsx';
import { readXlsx, streamXlsxRows } from 'hucre/xlsx';
import { changedWhileRead, unreadableWorkbook } from '../problems/files.ts';
import type { SourceFile } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import type { SourceRow } from './source-row.ts';
import { MOST_PACKED, MOST_UNPACKED, unpacksWithin } from './zip-guard.ts';

/** A workbook held in memory, for its sheets are packed together. */
export interface Workbook {
  readonly bytes: Buffer;
  readonly sha256: string;
  readonly sheets: readonly string[];
}

/** @throws UnusableExport if the file is no workbook, or one that is too large */
export async function openWorkbook(path: string, label: string): Promise<Workbook> {
  const { size } = await stat(path);
  const allowed = `an XLSX workbook of up to ${mebibytes(MOST_PACKED)} MiB, ${mebibytes(MOST_UNPACKED)} MiB unpacked`;
  if (size > MOST_PACKED) throw new UnusableExport([unreadableWorkbook(label, 'is too large', allowed)]);
  const bytes = await readFile(path);
  if (!unpacksWithin(bytes, MOST_UNPACKED)) {
    throw new UnusableExport([unreadableWorkbook(label, 'is no workbook, or unpacks to too much', allowed)]);
  }
  const sheets: string[] = [];
  try {
    await readXlsx(bytes, { sheets: info => sheets.push(info.name) < 0 });
  } catch {
    throw new UnusableExport([unreadableWorkbook(label, 'cannot be read as a workbook', allowed)]);
  }
  return { bytes, sha256: createHash('sha256').update(bytes).digest('hex'), sheets };
}

/**
 * The rows of a sheet as text: a date as `YYYY-MM-DD`, a number with a decimal point, a formula by the value that was
 * saved with it. The line of a row is its number in the sheet.
 *
 * @throws UnusableExport if there is no such sheet or it cannot be read
 */
export async function* sheetRows(book: Workbook, sheet: string, label: string): AsyncGenerator<SourceRow> {
  if (!book.sheets.includes(sheet)) {
    const allowed = `one of its sheets: ${book.sheets.join(', ')}`;
    throw new UnusableExport([unreadableWorkbook(label, `has no sheet "${sheet}"`, allowed)]);
  }
  try {
    for await (const { index, values } of streamXlsxRows(book.bytes, { sheet })) {
      yield { cells: values.map(cellText), line: index + 1, lastLine: index + 1 };
    }
  } catch {
    throw new UnusableExport([
      unreadableWorkbook(
        label,
        `has a sheet "${sheet}" that cannot be read`,
        'a sheet that a spreadsheet program saved',
      ),
    ]);
  }
}

/** The rows of a sheet within some ranges of lines, as lines of CSV. */
export async function* sheetLines(
  { path, file, sheet, sha256 }: Pick<SourceFile, 'path' | 'file' | 'sheet' | 'sha256'>,
  ranges: readonly number[],
): AsyncGenerator<string> {
  const book = await openWorkbook(path, file);
  if (book.sha256 !== sha256) throw new UnusableExport([changedWhileRead(file)]);
  let pair = 0;
  for await (const { cells, line } of sheetRows(book, sheet ?? '', file)) {
    while (pair < ranges.length && line > (ranges[pair + 1] as number)) pair += 2;
    if (line < (ranges[pair] ?? Number.POSITIVE_INFINITY)) continue;
    yield `${cells.map(cell => (/[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(',')}\n`;
  }
}

/** Digits that a spreadsheet keeps of a number. */
const DIGITS = 15;

function cellText(value: CellValue | undefined): string {
  if (value === null || value === undefined) return '';
  if (value instanceof Date) {
    if (Number.isNaN(value.getTime())) return '';
    const text = value.toISOString();
    return text.slice(10) === 'T00:00:00.000Z' ? text.slice(0, 10) : text.slice(0, 16);
  }
  if (typeof value === 'number') return String(Number(value.toPrecision(DIGITS)));
  return String(value);
}

function mebibytes(bytes: number): number {
  return bytes / 1_048_576;
}
