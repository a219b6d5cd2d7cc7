import { codedLabels, refuseUnread, requireArgument } from '../columns.ts';
import { chiSquareUpperTail } from '../distributions/chi-square.ts';
import { distinctTimes, orderByKey } from '../distinct-times.ts';
import { StatisticsError } from '../errors.ts';
import { followUpColumn } from '../follow-up-columns.ts';
import { quadraticForm } from '../quadratic-form.ts';
import { causeColumn } from './competing-follow-up.ts';
import { type GrayCounts, grayScore } from './gray-score.ts';

export interface GrayTestData {
  readonly time: ArrayLike<number>;
  /** The cause of the event at `time`; 0 for censored. */
  readonly cause: ArrayLike<number | string>;
  readonly group: ArrayLike<string | number>;
  readonly strata?: ArrayLike<string | number> | undefined;
}

export interface GrayTestOptions {
  /** The cause whose incidence is compared. */
  readonly cause: number | string;
  /** Weight (1 - pooled incidence just before t)^rho; 0 unless told. */
  readonly rho?: number | undefined;
  /** The groups in the order wanted; ascending unless told. */
  readonly groups?: readonly (string | number)[] | undefined;
}

export interface GrayTest {
  readonly groups: readonly { readonly group: string | number; readonly n: number; readonly score: number }[];
  /** Covariance of all scores but the last. */
  readonly covariance: readonly (readonly number[])[];
  readonly statistic: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
}

/**
 * Gray's test that k groups have the same cumulative incidence of one cause, in the presence of other causes.
 *
 * In each stratum the risk set of group r for the subdistribution is at risk times (1 - incidence just before
 * t) / event-free survival just before t, and the score sums, over event times of the cause, weight times
 * (events in the group - all events times the group's share of the risk sets). Scores and covariances are
 * summed over strata; the statistic is the quadratic form of all scores but the last, chi-square with the
 * rank of their covariance as degrees of freedom (k - 1 in ordinary data). See `grayScore` for the
 * covariance. Rows are taken as independent: `cluster` is passed over.
 *
 * @throws StatisticsError `one-group` with fewer than two groups; `no-events` if the cause never occurs while
 *   two groups are at risk; `out-of-range` for a negative rho; and as `cumulativeIncidence`
 * @example grayTest({ time, cause, group }, { cause: 1 }).pValue // 0.9966
 *
 * Source: Gray, Ann Stat 1988;16:1141-1154.
 */
export function grayTest(data: GrayTestData, options: GrayTestOptions): GrayTest {
  requireArgument('options', options);
  requireArgument('cause', options.cause);
  refuseUnread(data, ['strata', 'cluster']);
  const time = followUpColumn('time', data.time);
  const n = time.length;
  const { cause, labels: causes } = causeColumn(data.cause, n, undefined);
  const { codes: group, labels } = codedLabels('group', data.group, n, options.groups);
  const rho = options.rho ?? 0;
  if (!(rho >= 0 && Number.isFinite(rho))) {
    throw new StatisticsError('out-of-range', `rho is ${rho}; 0 or more is needed`);
  }
  const size = new Int32Array(labels.length);
  for (let i = 0; i < n; i++) {
    const g = group[i] as number;
    size[g] = (size[g] as number) + 1;
  }
  const present = Array.from(size.keys()).filter(g => (size[g] as number) > 0);
  if (present.length < 2) {
    throw new StatisticsError('one-group', 'group holds one group only; two or more are needed');
  }
  const code = causes.indexOf(options.cause) + 1;
  const strata = data.strata && codedLabels('strata', data.strata, n);
  const score = new Float64Array(present.length);
  const covariance = present.slice(1).map(() => Array.from({ length: present.length - 1 }, () => 0));
  const place = Int32Array.from(labels, (_, g) => present.indexOf(g));
  const counts = countsByStratum(time, cause, group, place, code, strata?.codes, strata?.labels.length ?? 1);
  for (const stratum of code > 0 ? counts : []) {
    const part = grayScore(stratum, present.length, rho);
    for (const [a, s] of part.score.entries()) score[a] = (score[a] as number) + s;
    for (const [a, row] of covariance.entries()) {
      for (let b = 0; b < row.length; b++) row[b] = (row[b] ?? 0) + (part.covariance[a]?.[b] ?? 0);
    }
  }
  const form = quadraticForm(Array.from(score.subarray(0, -1)), covariance);
  if (form.rank === 0) {
    throw new StatisticsError(
      'no-events',
      `cause ${String(options.cause)} never occurs while two groups are at risk; one event at least is needed`,
    );
  }
  return {
    groups: labels.map((label, g) => ({
      group: label,
      n: size[g] ?? 0,
      score: score[present.indexOf(g)] ?? 0,
    })),
    covariance,
    statistic: form.value,
    degreesOfFreedom: form.rank,
    pValue: chiSquareUpperTail(form.value, form.rank),
  };
}

/** One table of counts a stratum, over its own distinct times. */
function countsByStratum(
  time: Float64Array,
  cause: Int32Array,
  group: Int32Array,
  place: Int32Array,
  code: number,
  stratum: Int32Array | undefined,
  strata: number,
): GrayCounts[] {
  const groups = place.reduce((most, g) => Math.max(most, g), 0) + 1;
  const stratumOf = stratum ?? new Int32Array(time.length);
  const rows = orderByKey(stratumOf, strata);
  const tables: GrayCounts[] = [];
  for (let from = 0, s = 0; s < strata; s++) {
    let to = from;
    while (to < rows.length && stratumOf[rows[to] as number] === s) to++;
    const own = new Float64Array(to - from);
    for (let i = from; i < to; i++) own[i - from] = time[rows[i] as number] as number;
    const distinct = distinctTimes(own);
    const cells = distinct.times.length * groups;
    const table = {
      leaving: new Int32Array(cells),
      own: new Int32Array(cells),
      other: new Int32Array(cells),
    };
    for (let i = from; i < to; i++) {
      const row = rows[i] as number;
      const g = place[group[row] as number] as number;
      const cell = (distinct.place[i - from] as number) * groups + g;
      table.leaving[cell] = (table.leaving[cell] as number) + 1;
      const event = cause[row] as number;
      if (event === code) table.own[cell] = (table.own[cell] as number) + 1;
      else if (event > 0) table.other[cell] = (table.other[cell] as number) + 1;
    }
    tables.push({ times: distinct.times.length, ...table });
    from = to;
  }
  return tables;
}
