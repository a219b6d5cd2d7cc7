import { adjustPValues } from '../adjust-p-values.ts';
import type { PValueAdjustment } from '../adjust-p-values.ts';
import type { TestResult } from '../confidence-level.ts';
import { twoSidedNormal } from '../distributions/normal.ts';
import { groupedRanks } from './grouped-ranks.ts';
import type { GroupedValues } from './grouped-ranks.ts';
import { tieSum } from './mid-ranks.ts';

export interface DunnOptions {
  readonly adjust?: PValueAdjustment;
  /** The groups in the order wanted; ascending unless given. */
  readonly groups?: readonly (string | number)[];
}

export interface DunnComparison extends TestResult {
  /** `statistic` is above 0 where the first of these has the higher mean rank. */
  readonly groups: readonly [string | number, string | number];
  readonly adjustedPValue: number;
}

/**
 * Comparisons of every two groups after a Kruskal-Wallis test: the difference of their mean ranks over all groups,
 * divided by its standard error with tie correction. Two-sided, adjusted by Holm's method unless told otherwise.
 *
 * Source: Dunn, Technometrics 1964;6:241-252.
 *
 * @throws StatisticsError `one-group`, `empty`, `length`, `out-of-range`, `unknown-option`, `missing-value`
 * @example dunnTest({ value: time, group }).length // 1
 */
export function dunnTest(data: GroupedValues, options: DunnOptions = {}): readonly DunnComparison[] {
  const { groups, ties, total } = groupedRanks(data, options.groups);
  const variance = ties.length === 1 ? 0 : (total * (total + 1)) / 12 - tieSum(ties) / (12 * (total - 1));
  const compared = groups.flatMap((a, i) =>
    groups.slice(i + 1).map(b => {
      const difference = a.meanRank - b.meanRank;
      const statistic = variance === 0 ? 0 : difference / Math.sqrt(variance * (1 / a.n + 1 / b.n));
      return { groups: [a.group, b.group] as const, statistic, pValue: twoSidedNormal(statistic) };
    }),
  );
  const adjusted = adjustPValues(
    compared.map(({ pValue }) => pValue),
    options.adjust ?? 'holm',
  );
  return compared.map((comparison, i) => ({ ...comparison, adjustedPValue: adjusted[i] ?? 1 }));
}
