import { adjustPValues, type PValueAdjustment } from '../adjust-p-values.ts';
import { StatisticsError } from '../errors.ts';
import { checkedRows, type LogRankData, type LogRankOptions, logRankOfRows } from './log-rank.ts';
import type { LogRankRows } from './log-rank-sums.ts';

export interface PairwiseLogRank {
  readonly groups: readonly [string | number, string | number];
  readonly statistic: number;
  readonly pValue: number;
  readonly adjustedPValue: number;
}

/**
 * A log-rank test of every pair of groups, each on the rows of the two groups alone, with p-values adjusted
 * for the number of pairs: `holm` unless told. The pairs stand in the order of the groups: first with second,
 * first with third, and so on.
 *
 * @throws StatisticsError as `logRankTest`; a pair with no event at a time when both are at risk stops it, as
 *   `no-events`
 * @example pairwiseLogRank({ time, event, group }).map(({ groups }) => groups.join(' and ')) // ['mild and severe']
 */
export function pairwiseLogRank(
  data: LogRankData,
  options: Omit<LogRankOptions, 'scores'> & { readonly adjust?: PValueAdjustment | undefined } = {},
): readonly PairwiseLogRank[] {
  const { rows, labels } = checkedRows(data, options.groups);
  const present = new Set(rows.group);
  const codes = labels.map((_, g) => g).filter(g => present.has(g));
  if (codes.length < 2) {
    throw new StatisticsError('one-group', 'group holds one group only; two or more are needed');
  }
  const pairs = codes.flatMap((a, i) => codes.slice(i + 1).map(b => [a, b] as const));
  const tests = pairs.map(([a, b]) => {
    const pair = [labels[a] ?? a, labels[b] ?? b] as const;
    return { groups: pair, ...logRankOf(rowsOfPair(rows, a, b), pair, options) };
  });
  const adjusted = adjustPValues(
    tests.map(test => test.pValue),
    options.adjust ?? 'holm',
  );
  return tests.map((test, i) => ({ ...test, adjustedPValue: adjusted[i] ?? 1 }));
}

function logRankOf(
  rows: LogRankRows,
  pair: readonly (string | number)[],
  options: LogRankOptions,
): { statistic: number; pValue: number } {
  const { statistic, pValue } = logRankOfRows(rows, pair, { rho: options.rho, gamma: options.gamma });
  return { statistic, pValue };
}

function rowsOfPair(all: LogRankRows, a: number, b: number): LogRankRows {
  const pick: number[] = [];
  for (const [i, g] of all.group.entries()) if (g === a || g === b) pick.push(i);
  return {
    time: Float64Array.from(pick, i => all.time[i] as number),
    event: Uint8Array.from(pick, i => all.event[i] as number),
    entry: all.entry && Float64Array.from(pick, i => all.entry?.[i] ?? 0),
    group: Int32Array.from(pick, i => (all.group[i] === a ? 0 : 1)),
    groups: 2,
    stratum: all.stratum && Int32Array.from(pick, i => all.stratum?.[i] ?? 0),
    strata: all.strata,
  };
}
