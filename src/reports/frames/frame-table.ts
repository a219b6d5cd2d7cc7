import type { ColumnTable } from 'arquero';
import type { FrameColumn } from '../../cohort/frame-column.ts';

/** A column read out of a frame, one value a row, `undefined` where there is none. */
export interface ReadColumn extends FrameColumn {
  readonly values: readonly (string | number | boolean | undefined)[];
}

/**
 * The columns of a frame by their description.
 *
 * @throws TypeError for a value that is not of the type described, naming column and row
 */
export function readColumns(frame: ColumnTable, columns: readonly FrameColumn[]): ReadColumn[] {
  return columns.map(column => {
    const given = frame.column(column.name);
    const values = Array.from({ length: frame.numRows() }, (_, row) => checked(given?.at(row), column, row));
    return { ...column, values };
  });
}

function checked(
  value: unknown,
  { name, type }: FrameColumn,
  row: number,
): string | number | boolean | undefined {
  if (value === undefined) return undefined;
  if (type === 'text' && typeof value === 'string') return value;
  if (type === 'yes/no' && typeof value === 'boolean') return value;
  if (type === 'number' && typeof value === 'number' && Number.isFinite(value)) return value;
  if ((type === 'integer' || type === 'date') && typeof value === 'number' && Number.isInteger(value))
    return value;
  throw new TypeError(`${name}, row ${row}: ${JSON.stringify(value)} is not of the type ${type}`);
}
