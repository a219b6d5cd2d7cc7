import { isoDate } from '../../records/calendar-date.ts';
import { csvText, type CsvValue } from '../csv.ts';
import type { ReadColumn } from './frame-table.ts';

/** A frame as CSV: dates as 2025-03-09, yes/no as true and false, a missing value as an empty cell. */
export function frameCsv(columns: readonly ReadColumn[]): string {
  const rows = columns[0]?.values.length ?? 0;
  const cells = columns.map(({ type, values }) =>
    values.map((value): CsvValue => {
      if (typeof value === 'boolean') return String(value);
      return type === 'date' && typeof value === 'number' ? isoDate(value) : value;
    }),
  );
  return csvText(
    columns.map(({ name }) => name),
    Array.from({ length: rows }, (_, row) => cells.map(column => column[row])),
  );
}
