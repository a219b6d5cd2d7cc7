import { writeXlsx } from 'hucre/xlsx';
import type { CsvValue } from './csv.ts';
import type { DataTable } from './data-tables.ts';

/** Longest name of a sheet that spreadsheet programs read. */
const SHEET_NAME_LENGTH = 31;

/** Widths of columns, in characters. */
const NARROWEST = 8;
const WIDEST = 60;

/**
 * The tables as one XLSX workbook, a sheet a table: numbers as numbers at full precision, everything else as text,
 * so that no cell is a formula; the head row stays in sight. The same tables and time give the same bytes.
 *
 * @param made milliseconds since 1970-01-01 UTC, written down as the time of making
 * @throws RangeError for a number that is not finite
 */
export async function workbook(tables: readonly DataTable[], made: number): Promise<Uint8Array> {
  const names = sheetNames(tables.map(table => table.name));
  return writeXlsx({
    properties: { created: new Date(made), modified: new Date(made) },
    sheets: tables.map((table, i) => ({
      name: names[i] ?? table.name,
      rows: [[...table.header], ...table.rows.map(row => row.map(cellValue))],
      columns: table.header.map((head, k) => ({ width: columnWidth(head, table.rows, k) })),
      cells: new Map(
        table.header.map((head, k) => [
          `0,${k}`,
          { value: head, type: 'string' as const, style: { font: { bold: true } } },
        ]),
      ),
      freezePane: { rows: 1 },
    })),
  });
}

/**
 * Names of sheets: no more than 31 characters, none of the characters that such a name cannot hold, and no two alike
 * whatever their case. What is too long keeps its beginning and its end.
 */
export function sheetNames(names: readonly string[]): readonly string[] {
  const used = new Set<string>();
  return names.map(name => {
    const plain = name.replace(/[[\]:*?/\\]/g, '-').replace(/^'|'$/g, '-') || 'table';
    let candidate = shortened(plain, '');
    for (let n = 2; used.has(candidate.toLowerCase()); n++) candidate = shortened(plain, `~${n}`);
    used.add(candidate.toLowerCase());
    return candidate;
  });
}

function shortened(name: string, ending: string): string {
  const room = SHEET_NAME_LENGTH - ending.length;
  if (name.length <= room) return `${name}${ending}`;
  const tail = Math.floor((room - 1) / 2);
  return `${name.slice(0, room - 1 - tail)}\u2026${name.slice(name.length - tail)}${ending}`;
}

function cellValue(value: CsvValue): string | number | null {
  if (value === undefined) return null;
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new RangeError(`${String(value)} is no number for a table`);
    return value;
  }
  // XML 1.0 has no place for the other control characters and half surrogates.
  return value.replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, '\uFFFD');
}

/** As wide as the longest of head and values; numbers count with four decimals. */
function columnWidth(head: string, rows: DataTable['rows'], column: number): number {
  let width = head.length;
  for (const row of rows) {
    const value = row[column];
    const text = typeof value === 'number' ? String(Number(value.toFixed(4))) : (value ?? '');
    if (text.length > width) width = text.length;
  }
  return Math.min(Math.max(width + 2, NARROWEST), WIDEST);
}
