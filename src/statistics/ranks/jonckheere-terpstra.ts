import { ascendingOrder } from '../ascending-order.ts';
import type { TestResult } from '../confidence-level.ts';
import { normalUpperTail, twoSidedNormal } from '../distributions/normal.ts';
import { groupedRanks } from './grouped-ranks.ts';
import type { GroupedValues } from './grouped-ranks.ts';

export interface JonckheereOptions {
  /** The groups from the lowest expected values to the highest; ascending by label unless given. */
  readonly order?: readonly (string | number)[];
}

export interface JonckheereTest extends TestResult {
  readonly mean: number;
  readonly variance: number;
  readonly z: number;
  /** One-sided p-value that values rise along the order. */
  readonly pIncreasing: number;
}

/**
 * Rank test for values that rise or fall along an order of groups: `statistic` counts the pairs of values from two
 * groups in which the later group's is larger, ties counting half. Normal approximation with the variance for ties,
 * no continuity correction.
 *
 * Source: Jonckheere, Biometrika 1954;41:133-145; Terpstra 1952; variance with ties: Hollander, Wolfe and Chicken,
 * Nonparametric Statistical Methods, 3rd edition, 6.2.
 *
 * @throws StatisticsError `one-group`, `empty`, `length`, `out-of-range`, `missing-value`, `not-finite`
 * @example jonckheereTerpstra({ value: [1, 2, 4, 3, 5, 6], group: ['a', 'a', 'b', 'b', 'c', 'c'] }).statistic // 12
 */
export function jonckheereTerpstra(data: GroupedValues, options: JonckheereOptions = {}): JonckheereTest {
  const { groups, codes, values, ties, total } = groupedRanks(data, options.order);
  const statistic = orderedPairs(values, codes, groups.length);
  const sizes = groups.map(({ n }) => n);
  const mean = (total * total - sum(sizes, n => n * n)) / 4;
  const linear = (n: number): number => n * (n - 1) * (2 * n + 5);
  const triples = (n: number): number => n * (n - 1) * (n - 2);
  const pairs = (n: number): number => n * (n - 1);
  const inThrees = sum(sizes, triples) * sum(ties, triples);
  const variance =
    (linear(total) - sum(sizes, linear) - sum(ties, linear)) / 72 +
    (inThrees === 0 ? 0 : inThrees / (36 * triples(total))) +
    (sum(sizes, pairs) * sum(ties, pairs)) / (8 * pairs(total));
  // All values equal: nothing rises or falls, whatever rounding leaves of the variance.
  const z = ties.length === 1 ? 0 : (statistic - mean) / Math.sqrt(variance);
  return {
    statistic,
    pValue: twoSidedNormal(z),
    mean,
    variance: ties.length === 1 ? 0 : variance,
    z,
    pIncreasing: normalUpperTail(z),
  };
}

/** Walks the values upwards; each counts the smaller ones (and half the equal ones) of earlier groups. */
function orderedPairs(values: Float64Array, codes: Int32Array, groups: number): number {
  const order = ascendingOrder(values);
  const below = new Float64Array(groups);
  const equal = new Float64Array(groups);
  let count = 0;
  for (let from = 0; from < order.length; ) {
    const value = values[order[from] as number];
    equal.fill(0);
    let to = from;
    for (; to < order.length && values[order[to] as number] === value; to++) {
      const code = codes[order[to] as number] as number;
      equal[code] = (equal[code] as number) + 1;
    }
    let earlier = 0;
    for (let code = 0; code < groups; code++) {
      count += (equal[code] as number) * earlier;
      earlier += (below[code] as number) + (equal[code] as number) / 2;
    }
    for (let code = 0; code < groups; code++) below[code] = (below[code] as number) + (equal[code] as number);
    from = to;
  }
  return count;
}

function sum(values: readonly number[], f: (n: number) => number): number {
  let total = 0;
  for (const n of values) total += f(n);
  return total;
}
