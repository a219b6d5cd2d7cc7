import type { TestResult } from '../confidence-level.ts';
import { chiSquareUpperTail } from '../distributions/chi-square.ts';
import { groupedRanks } from './grouped-ranks.ts';
import type { GroupedValues, GroupOfRanks } from './grouped-ranks.ts';
import { tieSum } from './mid-ranks.ts';

export interface KruskalWallisTest extends TestResult {
  readonly degreesOfFreedom: number;
  readonly groups: readonly GroupOfRanks[];
}

/**
 * Rank test that groups share one distribution: 12/(N(N + 1)) times the sum of n (mean rank - (N + 1)/2)^2,
 * divided by 1 - sum(t^3 - t)/(N^3 - N) over ties of t values; chi-square on one less than the groups.
 * If all values are equal the statistic is 0 and the p-value 1.
 *
 * Source: Kruskal and Wallis, JASA 1952;47:583-621.
 *
 * @throws StatisticsError `one-group`, `empty`, `length`, `missing-value`, `not-finite`
 * @example kruskalWallis({ value: [1, 2, 4, 3, 5, 6], group: ['a', 'a', 'b', 'b', 'c', 'c'] }).statistic // 4.571
 */
export function kruskalWallis(data: GroupedValues): KruskalWallisTest {
  const { groups, ties, total } = groupedRanks(data);
  let between = 0;
  for (const { n, meanRank } of groups) between += n * (meanRank - (total + 1) / 2) ** 2;
  // The variance of one mid-rank, with divisor N - 1.
  const variance = (total * (total + 1)) / 12 - tieSum(ties) / (12 * (total - 1));
  const statistic = ties.length === 1 ? 0 : between / variance;
  const degreesOfFreedom = groups.length - 1;
  return { statistic, degreesOfFreedom, pValue: chiSquareUpperTail(statistic, degreesOfFreedom), groups };
}
