import { finiteColumn } from '../columns.ts';
import { criticalZ, tailOutside } from '../confidence-level.ts';
import type { LevelOption, TestResult } from '../confidence-level.ts';
import { twoSidedNormal } from '../distributions/normal.ts';
import { StatisticsError } from '../errors.ts';
import { midRanks, tieSum } from './mid-ranks.ts';
import { pairDifference } from './pair-differences.ts';
import { subsetSumCounts } from './rank-sum-distribution.ts';
import { requireOption } from '../option.ts';

export interface RankSumOptions extends LevelOption {
  /**
   * `exact`: permutation distribution, with ties too; `normal`: approximation with tie correction. Unless given,
   * exact without ties when both samples have fewer than 50 values, else normal.
   */
  readonly method?: 'exact' | 'normal';
  /** In the normal approximation, half a unit towards the mean; default true. */
  readonly continuity?: boolean;
}

export interface RankSumTest extends TestResult {
  /** Hodges-Lehmann shift: the median of all differences x - y. */
  readonly estimate: number;
  /**
   * Interval of the shift, from order statistics of the differences; undefined where the samples are so small that even
   * the whole range of the differences falls short of the level.
   */
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  readonly method: 'exact' | 'normal';
  /** statistic/(m n): the chance that an x exceeds a y, ties counting half. */
  readonly probabilityGreater: number;
}

/** Largest table of sums that the exact method fills. */
const EXACT_LIMIT = 400_000_000;

/**
 * Two-sample rank-sum test. `statistic` is the number of pairs with x above y, ties counting half. The two-sided
 * exact p-value is the chance of a rank sum at least as far from its mean.
 *
 * Source: Wilcoxon 1945; Mann and Whitney 1947; shift: Hodges and Lehmann 1963, with limits as in Hollander, Wolfe and
 * Chicken, Nonparametric Statistical Methods, 3rd edition, 4.2-4.3: the k-th differences from either end, k being
 * the largest whose tail stays within (1 - level)/2 (exact, no ties), or m n/2 - z sd rounded (else).
 *
 * @param x, y the two samples, in any order
 * @throws StatisticsError `empty`, `missing-value`, `not-finite`, `unknown-option`, `out-of-range` if an exact
 *   calculation was asked for and is too large
 * @example wilcoxonRankSum([6, 1, 4], [3, 5, 2]).statistic // 5
 */
export function wilcoxonRankSum(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: RankSumOptions = {},
): RankSumTest {
  const first = finiteColumn('x', x).sort();
  const second = finiteColumn('y', y).sort();
  const m = first.length;
  const n = second.length;
  const both = new Float64Array(m + n);
  both.set(first);
  both.set(second, m);
  const { ranks, ties } = midRanks(both);
  const tied = ties.length < m + n;
  const method = options.method ?? (!tied && m < 50 && n < 50 ? 'exact' : 'normal');
  requireOption('method', method, ['exact', 'normal']);
  let rankSum = 0;
  for (let i = 0; i < m; i++) rankSum += ranks[i] as number;
  const statistic = rankSum - (m * (m + 1)) / 2;
  const mean = (m * n) / 2;
  const variance = ((m * n) / 12) * (m + n + 1 - tieSum(ties) / ((m + n) * (m + n - 1)));
  const pairs = m * n;
  const estimate =
    (pairDifference(first, second, Math.floor((pairs + 1) / 2)) +
      pairDifference(first, second, Math.ceil((pairs + 1) / 2))) /
    2;
  let pValue: number;
  let limit = 0;
  if (method === 'exact') {
    const exact = exactTails(ranks, m, rankSum, tailOutside(options));
    pValue = exact.pValue;
    limit = exact.limit;
  } else {
    const step = options.continuity === false ? 0 : 0.5;
    const gap = Math.max(0, Math.abs(statistic - mean) - step);
    pValue = variance > 0 ? twoSidedNormal(gap / Math.sqrt(variance)) : 1;
  }
  if (method === 'normal' || tied) {
    limit = Math.round(mean - criticalZ(options) * Math.sqrt(Math.max(0, variance)));
  }
  limit = Math.min(limit, Math.ceil(pairs / 2));
  return {
    estimate,
    lower: limit < 1 ? undefined : pairDifference(first, second, limit),
    upper: limit < 1 ? undefined : pairDifference(first, second, pairs + 1 - limit),
    statistic,
    pValue,
    method,
    probabilityGreater: statistic / pairs,
  };
}

/** Chance of a sum at least as far from its mean, and the rank of the difference that bounds the interval. */
function exactTails(
  ranks: Float64Array,
  m: number,
  rankSum: number,
  tail: number,
): { readonly pValue: number; readonly limit: number } {
  const total = ranks.length;
  if (total * m * m * (total + 1) > EXACT_LIMIT) {
    throw new StatisticsError(
      'out-of-range',
      `${m} of ${total} values are too many for the exact method; use method: normal`,
    );
  }
  const counts = subsetSumCounts(
    Array.from(ranks, rank => 2 * rank),
    m,
  );
  const mean = m * (total + 1);
  const distance = Math.abs(2 * rankSum - mean);
  let all = 0;
  let far = 0;
  for (const [sum, count] of counts.entries()) {
    all += count;
    if (Math.abs(sum - mean) >= distance) far += count;
  }
  const least = m * (m + 1);
  let below = 0;
  let limit = 0;
  for (let u = 0; least + 2 * u < counts.length; u++) {
    below += counts[least + 2 * u] ?? 0;
    // A level that is reached exactly must not be lost in the rounding of 1 - level.
    if (below / all > tail * (1 + 1e-12)) break;
    limit = u + 1;
  }
  return { pValue: Math.min(1, far / all), limit };
}
