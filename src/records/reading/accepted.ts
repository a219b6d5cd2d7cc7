import { ColumnTable } from 'arquero';
import { codedColumn } from '../coded-column.ts';
import type { Field } from '../dictionary/field.ts';
import { WEAR_SOURCES } from '../rows.ts';
import type { ReadTable } from './read-table.ts';
import { MISSING } from './values.ts';

/** The accepted rows of a table as a data frame of plain values. */
export function acceptedTable(data: ReadTable): ColumnTable {
  const rows = acceptedRowNumbers(data);
  const columns: Record<string, unknown[]> = {};
  for (const field of data.table.fields) {
    if (field.dropped === true) continue;
    const values = data.columns.get(field.name);
    const toValue = valueOf(field, data.codes.get(field.name) ?? []);
    columns[field.name] = Array.from(rows, row => {
      const value = values?.[row] ?? MISSING;
      return value === MISSING ? undefined : toValue(value);
    });
  }
  return new ColumnTable(columns, Object.keys(columns));
}

/** The accepted rows of the wear log as a data frame of typed arrays, its episodes in order of first appearance. */
export function acceptedWear(data: ReadTable): ColumnTable {
  const rows = acceptedRowNumbers(data);
  const texts = data.codes.get('episode_id') ?? [];
  const allCodes = data.columns.get('episode_id') ?? new Int32Array(0);
  const newCode = new Int32Array(texts.length).fill(-1);
  const labels: string[] = [];
  const episode = new Int32Array(rows.length);
  for (let i = 0; i < rows.length; i++) {
    const code = allCodes[rows[i] as number] as number;
    if (newCode[code] === -1) newCode[code] = labels.push(texts[code] ?? '') - 1;
    episode[i] = newCode[code] as number;
  }
  return new ColumnTable({
    episode_id: codedColumn(episode, labels),
    date: picked(data, 'date', new Int32Array(rows.length), rows),
    source: codedColumn(picked(data, 'source', new Uint8Array(rows.length), rows), WEAR_SOURCES),
    hours_worn: picked(data, 'hours_worn', new Float64Array(rows.length), rows),
  });
}

/** First and last line of every refused row, in pairs; none where rows are numbered. */
export function refusedLines(data: ReadTable): Int32Array {
  const pairs: number[] = [];
  if (data.origins !== undefined) return Int32Array.from(pairs);
  for (let row = 0; row < data.rows; row++) {
    if (data.refused[row] === 0) continue;
    const line = data.lines[row] ?? 0;
    pairs.push(line, data.lastLines.get(line) ?? line);
  }
  return Int32Array.from(pairs);
}

/** The latest date in any date column of the accepted rows. */
export function latestDate(data: ReadTable): number | undefined {
  const rows = acceptedRowNumbers(data);
  let latest: number | undefined;
  for (const field of data.table.fields) {
    if (field.type !== 'date' || field.dropped === true) continue;
    const values = data.columns.get(field.name) ?? new Int32Array(0);
    for (const row of rows) {
      const date = values[row] ?? MISSING;
      if (date !== MISSING && (latest === undefined || date > latest)) latest = date;
    }
  }
  return latest;
}

function acceptedRowNumbers({ rows, refused }: ReadTable): Int32Array {
  let count = 0;
  for (let row = 0; row < rows; row++) if (refused[row] === 0) count++;
  const numbers = new Int32Array(count);
  let next = 0;
  for (let row = 0; row < rows; row++) if (refused[row] === 0) numbers[next++] = row;
  return numbers;
}

function picked<Column extends Int32Array | Uint8Array | Float64Array>(
  data: ReadTable,
  name: string,
  into: Column,
  rows: Int32Array,
): Column {
  const values = data.columns.get(name) ?? new Int32Array(0);
  for (let i = 0; i < rows.length; i++) into[i] = values[rows[i] as number] as number;
  return into;
}

function valueOf(field: Field, codes: readonly string[]): (value: number) => unknown {
  switch (field.type) {
    case 'code':
      return value => codes[value];
    case 'category':
      return value => field.categories[value]?.value;
    case 'yes/no':
      return value => value === 1;
    default:
      return value => value;
  }
}
