import type { ProblemCollector } from '../problems/collector.ts';
import type { ReadTable } from '../reading/read-table.ts';
import { MISSING } from '../reading/values.ts';
import type { Problem } from '../records.ts';

/** What the checks of one table need. */
export interface Checking {
  readonly data: ReadTable;
  readonly problems: ProblemCollector;
}

/** Leaves a row out, saying why. */
export function refuse({ data, problems }: Checking, row: number, why: Problem): void {
  data.refused[row] = 1;
  problems.add(why);
}

export function isRefused({ data }: Checking, row: number): boolean {
  return data.refused[row] === 1;
}

export function lineOf({ data }: Checking, row: number): number {
  return data.lines[row] ?? 0;
}

/** A column of the table by name; throws if the dictionary has no such field. */
export function column({ data }: Checking, name: string): Int32Array | Float64Array {
  const values = data.columns.get(name);
  if (values === undefined) throw new Error(`${data.table.file} has no field ${name}`);
  return values;
}

/** The value of a row as a number (values.ts says which), or undefined if it is missing. */
export function valueAt(values: Int32Array | Float64Array, row: number): number | undefined {
  const value = values[row];
  return value === MISSING ? undefined : value;
}

/** Rows not refused, each with its place in the file. */
export function* acceptedRows(checking: Checking): Generator<number> {
  for (let row = 0; row < checking.data.rows; row++) if (!isRefused(checking, row)) yield row;
}

/** The word of a category column in a row. */
export function wordAt(checking: Checking, name: string, row: number): string {
  const field = checking.data.table.fields.find(field => field.name === name);
  const place = column(checking, name)[row] ?? -1;
  return (field?.type === 'category' ? field.categories[place]?.value : undefined) ?? '';
}
