import { finiteColumn, finiteColumnOf } from '../columns.ts';
import { twoSidedNormal } from '../distributions/normal.ts';
import { StatisticsError } from '../errors.ts';
import { discordantPairs } from './discordant-pairs.ts';
import { inversionsAtMost } from './inversions.ts';
import { midRanks } from './mid-ranks.ts';
import type { RankCorrelation } from './spearman.ts';
import { requireOption } from '../option.ts';

export interface KendallOptions {
  /**
   * `exact`: the distribution of inversions, only without ties; `normal`: approximation with the variance for ties.
   * Unless given, exact without ties under 50 pairs, else normal.
   */
  readonly method?: 'exact' | 'normal';
  /** In the normal approximation, one pair towards 0; default false. */
  readonly continuity?: boolean;
}

export interface KendallCorrelation extends RankCorrelation {
  readonly method: 'exact' | 'normal';
  readonly concordant: number;
  readonly discordant: number;
}

/**
 * Kendall's rank correlation tau-b: concordant less discordant pairs, over the root of the pairs not tied in x times
 * those not tied in y. `statistic` is the standardised difference (z) with the variance for ties. Work grows as n log n.
 *
 * Source: Kendall, Rank Correlation Methods, 4th edition, chapters 3-5; counting: Knight, JASA 1966;61:436-439.
 *
 * @param x, y pairs, at least 2
 * @throws StatisticsError `empty` under two pairs, `constant-covariate`, `length`, `unknown-option`, `missing-value`,
 *   `not-finite`
 * @example kendall([1, 2, 3, 4], [10, 30, 20, 40]).estimate // 0.6667
 */
export function kendall(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: KendallOptions = {},
): KendallCorrelation {
  const first = finiteColumn('x', x);
  const second = finiteColumnOf('y', y, first.length);
  const n = first.length;
  if (n < 2) throw new StatisticsError('empty', `x has ${n} values; two pairs are needed`);
  const a = midRanks(first).ties;
  const b = midRanks(second).ties;
  if (a.length === 1 || b.length === 1) {
    throw new StatisticsError(
      'constant-covariate',
      `all values of ${a.length === 1 ? 'x' : 'y'} are equal; they have no correlation`,
    );
  }
  const tied = a.length < n || b.length < n;
  const method = options.method ?? (!tied && n < 50 ? 'exact' : 'normal');
  requireOption('method', method, ['exact', 'normal']);
  if (method === 'exact' && tied) {
    throw new StatisticsError('unknown-option', 'method exact needs values without ties; use normal');
  }
  const { discordant, tiedInBoth } = discordantPairs(first, second);
  const pairs = (n * (n - 1)) / 2;
  const tiedX = sum(a, t => (t * (t - 1)) / 2);
  const tiedY = sum(b, t => (t * (t - 1)) / 2);
  const concordant = pairs - tiedX - tiedY + tiedInBoth - discordant;
  const difference = concordant - discordant;
  const gap = options.continuity === true ? Math.max(0, Math.abs(difference) - 1) : Math.abs(difference);
  const statistic = (Math.sign(difference) * gap) / Math.sqrt(differenceVariance(n, a, b));
  return {
    estimate: difference / Math.sqrt((pairs - tiedX) * (pairs - tiedY)),
    statistic,
    pValue:
      method === 'exact'
        ? Math.min(1, 2 * inversionsAtMost(Math.min(concordant, discordant), n))
        : twoSidedNormal(statistic),
    method,
    n,
    concordant,
    discordant,
  };
}

function differenceVariance(n: number, a: readonly number[], b: readonly number[]): number {
  const linear = (t: number): number => t * (t - 1) * (2 * t + 5);
  const pairs = (t: number): number => t * (t - 1);
  const triples = (t: number): number => t * (t - 1) * (t - 2);
  const inThrees = sum(a, triples) * sum(b, triples);
  return (
    (linear(n) - sum(a, linear) - sum(b, linear)) / 18 +
    (sum(a, pairs) * sum(b, pairs)) / (2 * pairs(n)) +
    (inThrees === 0 ? 0 : inThrees / (9 * triples(n)))
  );
}

function sum(values: readonly number[], f: (t: number) => number): number {
  let total = 0;
  for (const t of values) total += f(t);
  return total;
}
