import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { daysFromIsoDate, isoDate } from '../../../../src/records/calendar-date.ts';
import type { TableName } from '../../../../src/records/records.ts';

export type Row = Readonly<Record<string, string>>;

/** The rows of one file of the canonical export as texts. */
export function canonicalRows(table: TableName): readonly Row[] {
  const text = readFileSync(new URL(`../canonical/${table}.csv`, import.meta.url), 'utf8');
  return parse<Row>(text, { columns: true });
}

export function cell(row: Row | undefined, field: string): string {
  return row?.[field] ?? '';
}

export const rowsOf = (rows: readonly Row[], episode: string): readonly Row[] =>
  rows.filter(row => cell(row, 'episode_id') === episode);

/** A date in another order, `2025-03-04` being year, month and day. */
export function dated(iso: string, write: (year: string, month: string, day: string) => string): string {
  const [year = '', month = '', day = ''] = iso.split('-');
  return iso === '' ? '' : write(year, month, day);
}

export const daysBetween = (from: string, to: string): number =>
  (daysFromIsoDate(to) ?? 0) - (daysFromIsoDate(from) ?? 0);

export const daysAfter = (from: string, days: number): string => isoDate((daysFromIsoDate(from) ?? 0) + days);

/** Rows as text with a separator, a header first, every line ended. */
export function separated(rows: readonly (readonly string[])[], delimiter: string, end = '\n'): string {
  const quoted = (text: string): string =>
    text.includes(delimiter) || /["\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  return rows.map(row => row.map(quoted).join(delimiter) + end).join('');
}
