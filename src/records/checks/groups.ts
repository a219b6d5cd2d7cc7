import type { Checking } from './checking.ts';
import { column } from './checking.ts';

/** Rows in runs of the same code: run g is `order[start[g]]` up to, not including, `order[start[g + 1]]`. */
export interface Runs {
  readonly order: Int32Array;
  readonly start: Int32Array;
}

/**
 * Puts the rows that are not refused into runs by a code column (a counting sort: no row is compared with another),
 * and each run into order by other columns, then by the order of the file.
 */
export function runsBy(checking: Checking, by: string, ...then: readonly string[]): Runs {
  const { data } = checking;
  const codes = column(checking, by);
  let groups = 0;
  for (let row = 0; row < data.rows; row++) {
    if (data.refused[row] === 0) groups = Math.max(groups, (codes[row] as number) + 1);
  }
  const start = new Int32Array(groups + 1);
  for (let row = 0; row < data.rows; row++) {
    if (data.refused[row] === 0)
      start[(codes[row] as number) + 1] = (start[(codes[row] as number) + 1] ?? 0) + 1;
  }
  for (let g = 0; g < groups; g++) start[g + 1] = (start[g + 1] as number) + (start[g] as number);
  const order = new Int32Array(start[groups] ?? 0);
  const next = start.slice();
  for (let row = 0; row < data.rows; row++) {
    if (data.refused[row] !== 0) continue;
    const code = codes[row] as number;
    order[next[code] as number] = row;
    next[code] = (next[code] as number) + 1;
  }
  const compare = comparison(then.map(name => column(checking, name)));
  for (let g = 0; g < groups; g++) {
    const run = order.subarray(start[g], start[g + 1]);
    if (!ascends(run, compare)) run.sort(compare);
  }
  return { order, start };
}

function comparison(columns: readonly (Int32Array | Float64Array)[]): (a: number, b: number) => number {
  return (a, b) => {
    for (const values of columns) {
      const difference = (values[a] as number) - (values[b] as number);
      if (difference !== 0) return difference;
    }
    return a - b;
  };
}

function ascends(run: Int32Array, compare: (a: number, b: number) => number): boolean {
  for (let i = 1; i < run.length; i++) if (compare(run[i - 1] as number, run[i] as number) > 0) return false;
  return true;
}

/** Calls back for every run that holds a row, with the rows in order. */
export function forEachRun({ order, start }: Runs, visit: (rows: Int32Array) => void): void {
  for (let g = 0; g + 1 < start.length; g++) {
    const rows = order.subarray(start[g], start[g + 1]);
    if (rows.length > 0) visit(rows);
  }
}
