import { logGamma } from '../distributions/gamma-function.ts';
import { StatisticsError } from '../errors.ts';
import type { CountTable } from './count-table.ts';

/** Column fillings tried before giving up: some seconds of work. */
const WORK_LIMIT = 12_000_000;
/** Log probabilities of partial tables closer than this are taken as one. */
const MERGE = 1e-9;

/** What is still to be filled in: the rows' remaining counts, largest first, and the sums over its completions. */
interface Node {
  readonly rest: readonly number[];
  readonly longest: number;
  readonly shortest: number;
  /** log of the sum of the products of reciprocal factorials over all completions. */
  readonly total: number;
}

/**
 * Total probability, margins fixed, of the r x c tables no more probable than the given one.
 *
 * Columns are filled one after the other. Partial tables that leave the same row counts (in any order) share a
 * node; a partial table is settled as soon as its most probable completion is no more probable than the observed
 * table (all its completions count) or its least probable one is more so (none does).
 *
 * @param tie relative distance within which a table counts as equally probable
 * @throws StatisticsError `out-of-range` if the table is too large to settle in a bounded amount of work
 */
export function exactTableProbability(table: CountTable, tie: number): number {
  const { total, cells } = table;
  const [short, long] =
    table.rows <= table.columns
      ? [table.rowTotals, table.columnTotals]
      : [table.columnTotals, table.rowTotals];
  const margins = Array.from(short).sort((a, b) => b - a);
  const columns = Array.from(long).sort((a, b) => b - a);
  const logFactorial = Float64Array.from({ length: total + 1 }, (_, k) => logGamma(k + 1));
  const factorial = (k: number): number => logFactorial[k] ?? 0;
  const columnsLeft = columns.map((_, j) => columns.slice(j).reduce((sum, c) => sum + factorial(c), 0));

  let work = 0;
  const spend = (): void => {
    work += 1;
    if (work > WORK_LIMIT) {
      throw new StatisticsError(
        'out-of-range',
        `table (${table.rows} x ${table.columns}, ${total} counts) is too large for the exact test; ` +
          'use chiSquareTest, or a permutation test',
      );
    }
  };

  const memory: Map<number | string, Node>[] = columns.map(() => new Map());
  // Remaining counts as the digits of one number, where that number is exact.
  const base = (margins[0] ?? 0) + 1;
  const asNumber = base ** margins.length < Number.MAX_SAFE_INTEGER;
  const node = (stage: number, rest: readonly number[]): Node => {
    const key = asNumber ? rest.reduce((digits, k) => digits * base + k, 0) : rest.join();
    const known = memory[stage]?.get(key);
    if (known !== undefined) return known;
    let longest = Number.NEGATIVE_INFINITY;
    let shortest = Number.POSITIVE_INFINITY;
    if (stage === columns.length - 1) {
      longest = -rest.reduce((sum, k) => sum + factorial(k), 0);
      shortest = longest;
    } else {
      eachFilling(rest, columns[stage] ?? 0, factorial, spend, (log, left) => {
        const next = node(stage + 1, left);
        longest = Math.max(longest, log + next.longest);
        shortest = Math.min(shortest, log + next.shortest);
      });
    }
    const left = rest.reduce((sum, k) => sum + k, 0);
    const sum = factorial(left) - rest.reduce((s, k) => s + factorial(k), 0) - (columnsLeft[stage] ?? 0);
    const made = { rest, longest, shortest, total: sum };
    memory[stage]?.set(key, made);
    return made;
  };

  let observed = 0;
  for (const count of cells) observed -= factorial(count);
  const limit = observed + tie;
  const start = node(0, margins);
  let p = 0;
  let open: Map<Node, Map<number, Partial>> = new Map([[start, new Map([[0, { log: 0, weight: 1 }]])]]);
  if (start.longest <= limit) return 1;
  for (let stage = 0; stage < columns.length - 1 && open.size > 0; stage++) {
    const following: Map<Node, Map<number, Partial>> = new Map();
    for (const [here, partials] of open) {
      const live = [...partials.values()].sort((a, b) => a.log - b.log);
      const top = live.at(-1)?.log ?? 0;
      const summed = new Float64Array(live.length + 1);
      for (const [i, { log, weight }] of live.entries()) {
        summed[i + 1] = (summed[i] as number) + weight * Math.exp(log - top);
      }
      eachFilling(here.rest, columns[stage] ?? 0, factorial, spend, (log, left) => {
        const next = node(stage + 1, left);
        // In order of probability: first those all of whose completions count, last those none of whose do.
        const settled = countUpTo(live, limit - log - next.longest);
        if (settled > 0) p += (summed[settled] as number) * Math.exp(top + log + next.total - start.total);
        const end = countUpTo(live, limit - log - next.shortest);
        if (end <= settled) return;
        let known = following.get(next);
        if (known === undefined) following.set(next, (known = new Map()));
        for (let i = settled; i < end; i++) {
          spend();
          const partial = live[i] as Partial;
          const sum = partial.log + log;
          const place = Math.round(sum / MERGE);
          const same = known.get(place);
          if (same === undefined) known.set(place, { log: sum, weight: partial.weight });
          else same.weight += partial.weight;
        }
      });
    }
    open = following;
  }
  return Math.min(1, p);
}

/** Partial tables of one probability: its log (of reciprocal factorials), and how many there are. */
interface Partial {
  readonly log: number;
  weight: number;
}

/** How many of the partial tables, ascending by log, are at most the limit. */
function countUpTo(live: readonly Partial[], limit: number): number {
  let low = 0;
  let high = live.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((live[middle] as Partial).log <= limit) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Each way to share a column's count among the rows; tells the log reciprocal factorials and what is left, sorted. */
function eachFilling(
  rest: readonly number[],
  count: number,
  factorial: (k: number) => number,
  spend: () => void,
  visit: (log: number, left: readonly number[]) => void,
): void {
  const capacity = rest.map((_, i) => rest.slice(i + 1).reduce((sum, k) => sum + k, 0));
  const left = [...rest];
  const fill = (row: number, remaining: number, log: number): void => {
    const room = rest[row] ?? 0;
    if (row === rest.length - 1) {
      spend();
      left[row] = room - remaining;
      visit(log - factorial(remaining), descending(left));
      return;
    }
    const least = Math.max(0, remaining - (capacity[row] ?? 0));
    const most = Math.min(room, remaining);
    for (let k = least; k <= most; k++) {
      left[row] = room - k;
      fill(row + 1, remaining - k, log - factorial(k));
    }
  };
  fill(0, count, 0);
}

/** A copy with the largest first; insertion, as there are few and they are nearly in order. */
function descending(values: readonly number[]): number[] {
  const sorted = [...values];
  for (let i = 1; i < sorted.length; i++) {
    const value = sorted[i] as number;
    let j = i;
    for (; j > 0 && (sorted[j - 1] as number) < value; j--) sorted[j] = sorted[j - 1] as number;
    sorted[j] = value;
  }
  return sorted;
}
