import { finiteColumnOf, requireLength } from '../columns.ts';
import type { TestResult } from '../confidence-level.ts';
import { chiSquareUpperTail } from '../distributions/chi-square.ts';
import { StatisticsError } from '../errors.ts';
import { requireSuccesses } from './counts.ts';

export interface TrendOptions {
  /** One score a group, in the order of the groups; 1, 2, 3, ... unless given. */
  readonly scores?: ArrayLike<number>;
}

export interface TrendInProportions extends TestResult {
  /** Signed root of the statistic: above 0 where the proportion rises with the score. */
  readonly z: number;
  /** Weighted least-squares slope of the proportion on the score. */
  readonly slope: number;
  /** Chi-square for any difference between the groups, on one less than their number. */
  readonly homogeneity: TestResult;
  /** What of that is not a straight line; absent for two groups. */
  readonly departure?: TestResult;
}

/**
 * Test for a straight-line trend of a proportion over ordered groups: the squared sum of
 * score x (successes - expected), over its variance when all groups share one proportion (with N, not N - 1).
 *
 * Source: Cochran, Biometrics 1954;10:417-451; Armitage, Biometrics 1955;11:375-386.
 *
 * @param successes, n one value a group
 * @throws StatisticsError `one-group`, `length`, `no-events` if all or none succeeded, `out-of-range` if all
 *   scores are equal, and as `wilsonInterval`
 * @example trendInProportions([2, 5, 9], [20, 20, 20]).pValue // 0.01232
 */
export function trendInProportions(
  successes: ArrayLike<number>,
  n: ArrayLike<number>,
  options: TrendOptions = {},
): TrendInProportions {
  const groups = successes.length;
  requireLength('n', n, groups);
  if (groups < 2) throw new StatisticsError('one-group', `successes has ${groups} groups; two are needed`);
  const scores = finiteColumnOf(
    'scores',
    options.scores ?? Array.from({ length: groups }, (_, i) => i + 1),
    groups,
  );
  let total = 0;
  let hits = 0;
  let scoreSum = 0;
  for (let i = 0; i < groups; i++) {
    const size = n[i] ?? Number.NaN;
    requireSuccesses(successes[i] ?? Number.NaN, size, `[${i}]`);
    total += size;
    hits += successes[i] ?? 0;
    scoreSum += size * (scores[i] ?? 0);
  }
  if (hits === 0 || hits === total) {
    throw new StatisticsError('no-events', `${hits} of ${total} succeeded; a trend needs both outcomes`);
  }
  const pooled = hits / total;
  const meanScore = scoreSum / total;
  let covariance = 0;
  let spread = 0;
  let between = 0;
  for (let i = 0; i < groups; i++) {
    const size = n[i] ?? 0;
    const excess = (successes[i] ?? 0) - size * pooled;
    const score = (scores[i] ?? 0) - meanScore;
    covariance += score * excess;
    spread += size * score * score;
    between += (excess * excess) / size;
  }
  if (spread === 0)
    throw new StatisticsError('out-of-range', 'scores are all equal; a trend needs two of them');
  const variance = pooled * (1 - pooled);
  const z = covariance / Math.sqrt(variance * spread);
  const statistic = z * z;
  const homogeneity = chiSquare(between / variance, groups - 1);
  return {
    statistic,
    degreesOfFreedom: 1,
    pValue: chiSquareUpperTail(statistic, 1),
    z,
    slope: covariance / spread,
    homogeneity,
    ...(groups > 2
      ? { departure: chiSquare(Math.max(0, homogeneity.statistic - statistic), groups - 2) }
      : {}),
  };
}

function chiSquare(statistic: number, degreesOfFreedom: number): TestResult {
  return { statistic, degreesOfFreedom, pValue: chiSquareUpperTail(statistic, degreesOfFreedom) };
}
