import { codedLabels, eventColumn, refuseUnread } from '../columns.ts';
import { chiSquareUpperTail } from '../distributions/chi-square.ts';
import { StatisticsError } from '../errors.ts';
import { entryColumn, followUpColumn } from '../follow-up-columns.ts';
import { quadraticForm } from '../quadratic-form.ts';
import { type LogRankRows, logRankSums } from './log-rank-sums.ts';

export interface LogRankData {
  readonly time: ArrayLike<number>;
  readonly event: ArrayLike<number | boolean>;
  readonly group: ArrayLike<string | number>;
  readonly strata?: ArrayLike<string | number> | undefined;
  /** Late entry: at risk only after this time. */
  readonly entry?: ArrayLike<number> | undefined;
}

export interface LogRankOptions {
  /**
   * Fleming-Harrington weight S(t-)^rho (1 - S(t-))^gamma, S pooled over groups within the stratum; both 0
   * unless told.
   */
  readonly rho?: number | undefined;
  readonly gamma?: number | undefined;
  /** A score for each group, in the order of the groups: also test for trend. */
  readonly scores?: ArrayLike<number> | undefined;
  /** The groups in the order wanted; ascending unless told. */
  readonly groups?: readonly (string | number)[] | undefined;
}

export interface LogRankTest {
  /** Observed and expected are weighted sums when rho or gamma is not 0. */
  readonly groups: readonly {
    readonly group: string | number;
    readonly n: number;
    readonly observed: number;
    readonly expected: number;
  }[];
  /** Covariance of observed minus expected, in the order of the groups. */
  readonly covariance: readonly (readonly number[])[];
  readonly statistic: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
  readonly trend?: { readonly statistic: number; readonly pValue: number };
}

/**
 * Log-rank test that k groups have the same hazard, with Fleming-Harrington weights and strata.
 *
 * At each event time within a stratum the events d are compared with those expected of each group, d times
 * its share of those at risk n; variance hypergeometric, d (n - d) / (n - 1) times share_i (1 if i = j, else
 * 0, - share_j). Sums over times and strata, weighted; the statistic is the quadratic form of observed minus
 * expected in the inverse of its covariance, chi-square with its rank (k - 1 when every group is at risk at
 * some event) as degrees of freedom. The trend statistic is (sum of score times (observed - expected))
 * squared over its variance, chi-square with 1 degree of freedom.
 *
 * At risk at t: entry < t <= time. A named group in which nobody is counts 0 and takes no degree of freedom. Rows are
 * taken as independent: `cluster` is passed over, and weights are refused; `coxModel` tests with either.
 *
 * @throws StatisticsError `one-group` with fewer than two groups; `no-events` if there is no event at a time
 *   with two groups at risk; `length` unless there is a score for each group; `out-of-range` for equal scores
 *   or a negative rho or gamma; and as `kaplanMeier`
 * @example logRankTest({ time: [1, 2, 3, 4], event: [1, 1, 1, 0], group: ['a', 'a', 'b', 'b'] }).pValue // 0.08956
 *
 * Source: Mantel, Cancer Chemother Rep 1966;50:163-170. Fleming and Harrington, Counting Processes and
 * Survival Analysis, 1991, section 7.2. Trend: Tarone, Biometrika 1975;62:679-682.
 */
export function logRankTest(data: LogRankData, options: LogRankOptions = {}): LogRankTest {
  const { rows, labels } = checkedRows(data, options.groups);
  return logRankOfRows(rows, labels, options);
}

export function checkedRows(
  data: LogRankData,
  order: readonly (string | number)[] | undefined,
): { rows: LogRankRows; labels: readonly (string | number)[] } {
  refuseUnread(data, ['entry', 'strata', 'cluster']);
  const time = followUpColumn('time', data.time);
  const n = time.length;
  const { codes, labels } = codedLabels('group', data.group, n, order);
  const strata = data.strata && codedLabels('strata', data.strata, n);
  const rows = {
    time,
    event: eventColumn('event', data.event, n),
    entry: data.entry && entryColumn('entry', data.entry, time),
    group: codes,
    groups: labels.length,
    stratum: strata?.codes,
    strata: strata?.labels.length ?? 1,
  };
  return { rows, labels };
}

export function logRankOfRows(
  rows: LogRankRows,
  labels: readonly (string | number)[],
  options: LogRankOptions,
): LogRankTest {
  const n = labels.map(() => 0);
  for (let i = 0; i < rows.group.length; i++) {
    const g = rows.group[i] as number;
    n[g] = (n[g] ?? 0) + 1;
  }
  if (n.filter(count => count > 0).length < 2) {
    throw new StatisticsError('one-group', 'group holds one group only; two or more are needed');
  }
  const sums = logRankSums(rows, exponent('rho', options.rho), exponent('gamma', options.gamma));
  const difference = sums.observed.map((o, g) => o - (sums.expected[g] ?? 0));
  const form = quadraticForm(
    difference.slice(1),
    sums.covariance.slice(1).map(row => row.slice(1)),
  );
  if (form.rank === 0) {
    throw new StatisticsError(
      'no-events',
      'event holds no event at a time with two groups at risk; one is needed',
    );
  }
  const groups = labels.map((group, g) => ({
    group,
    n: n[g] ?? 0,
    observed: sums.observed[g] ?? 0,
    expected: sums.expected[g] ?? 0,
  }));
  return {
    groups,
    covariance: sums.covariance,
    statistic: form.value,
    degreesOfFreedom: form.rank,
    pValue: chiSquareUpperTail(form.value, form.rank),
    ...(options.scores ? { trend: trendTest(options.scores, difference, sums.covariance) } : {}),
  };
}

function exponent(name: string, value: number | undefined): number {
  if (value === undefined) return 0;
  if (value >= 0 && Number.isFinite(value)) return value;
  throw new StatisticsError('out-of-range', `${name} is ${value}; 0 or more is needed`);
}

function trendTest(
  scores: ArrayLike<number>,
  difference: readonly number[],
  covariance: readonly (readonly number[])[],
): { statistic: number; pValue: number } {
  if (scores.length !== difference.length) {
    throw new StatisticsError(
      'length',
      `scores has ${scores.length} values; ${difference.length} are needed, one a group`,
    );
  }
  const s = Array.from(scores);
  const total = s.reduce((sum, score, g) => sum + score * (difference[g] ?? 0), 0);
  const variance = s.reduce(
    (sum, a, g) => sum + a * s.reduce((inner, b, h) => inner + b * (covariance[g]?.[h] ?? 0), 0),
    0,
  );
  if (!(variance > 0) || s.every(score => score === s[0])) {
    throw new StatisticsError(
      'out-of-range',
      `scores are ${s.join(', ')}; groups with events need differing scores`,
    );
  }
  const statistic = total ** 2 / variance;
  return { statistic, pValue: chiSquareUpperTail(statistic, 1) };
}
