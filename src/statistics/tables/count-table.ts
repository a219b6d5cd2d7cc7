import { requireCount } from '../distributions/counts.ts';
import { StatisticsError } from '../errors.ts';

/** A table of counts, row after row, with its margins. */
export interface CountTable {
  readonly rows: number;
  readonly columns: number;
  readonly cells: Float64Array;
  readonly rowTotals: Float64Array;
  readonly columnTotals: Float64Array;
  readonly total: number;
}

/**
 * Reads an array of rows as counts.
 *
 * @throws StatisticsError `empty` without a row or column, `length` if rows differ in length, `out-of-range` for
 *   a negative count, `not-a-whole-number`, `missing-value`, `not-finite`
 */
export function countTable(table: ArrayLike<ArrayLike<number>>, name = 'table'): CountTable {
  const rows = table.length;
  const columns = table[0]?.length ?? 0;
  if (rows === 0 || columns === 0) throw new StatisticsError('empty', `${name} has no cell`);
  const cells = new Float64Array(rows * columns);
  const rowTotals = new Float64Array(rows);
  const columnTotals = new Float64Array(columns);
  let total = 0;
  for (let i = 0; i < rows; i++) {
    const row = table[i];
    if (row === undefined || row.length !== columns) {
      throw new StatisticsError(
        'length',
        `${name}[${i}] has ${row?.length ?? 0} counts; ${columns} are needed`,
      );
    }
    for (let j = 0; j < columns; j++) {
      const count = row[j] ?? Number.NaN;
      requireCount(`${name}[${i}][${j}]`, count);
      cells[i * columns + j] = count + 0;
      rowTotals[i] = (rowTotals[i] ?? 0) + count;
      columnTotals[j] = (columnTotals[j] ?? 0) + count;
      total += count;
    }
  }
  return { rows, columns, cells, rowTotals, columnTotals, total };
}

/** @throws StatisticsError `empty` for a row of zeros, `one-group` unless there are two rows and two columns */
export function requireFullRows({ rows, columns, rowTotals }: CountTable): void {
  if (rows < 2 || columns < 2) {
    throw new StatisticsError(
      'one-group',
      `table is ${rows} x ${columns}; two rows and two columns are needed`,
    );
  }
  const row = rowTotals.indexOf(0);
  if (row >= 0) throw new StatisticsError('empty', `row ${row} of the table counts nothing; leave it out`);
}

/** As `requireFullRows`, and no column of zeros. */
export function requireFullMargins(table: CountTable): void {
  requireFullRows(table);
  const column = table.columnTotals.indexOf(0);
  if (column >= 0) {
    throw new StatisticsError('empty', `column ${column} of the table counts nothing; leave it out`);
  }
}
