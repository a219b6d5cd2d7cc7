import { ascendingOrder } from '../ascending-order.ts';

/** Ranks from 1, tied values sharing the mean of theirs, and how many values each tie holds. */
export interface MidRanks {
  readonly ranks: Float64Array;
  /** Sizes of the groups of equal values, ascending by value, single values included. */
  readonly ties: readonly number[];
}

/**
 * Ranks of values from the lowest, 1, to the highest, n; tied values share the mean of the ranks that they take up.
 *
 * Source: Kruskal and Wallis, J Am Stat Assoc 1952;47:583-621.
 *
 * @example midRanks(Float64Array.of(5, 3, 5, 1)).ranks // [3.5, 2, 3.5, 1]
 */
export function midRanks(values: Float64Array): MidRanks {
  const n = values.length;
  const order = ascendingOrder(values);
  const ranks = new Float64Array(n);
  const ties: number[] = [];
  for (let from = 0; from < n; ) {
    const value = values[order[from] as number] as number;
    let to = from + 1;
    while (to < n && values[order[to] as number] === value) to++;
    const rank = (from + 1 + to) / 2;
    for (let i = from; i < to; i++) ranks[order[i] as number] = rank;
    ties.push(to - from);
    from = to;
  }
  return { ranks, ties };
}

/** The sum of t^3 - t over ties of t values: what ties take from a variance of ranks. */
export function tieSum(ties: readonly number[]): number {
  let sum = 0;
  for (const t of ties) sum += t * t * t - t;
  return sum;
}
