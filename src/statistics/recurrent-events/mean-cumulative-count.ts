import { codedLabels } from '../columns.ts';
import { distinctTimes, firstLater, orderByKey } from '../distinct-times.ts';
import { normalQuantile } from '../distributions/normal.ts';
import { confidenceLevel } from '../confidence-level.ts';
import { differenceOfSums } from '../survival/influence.ts';
import { checkedRecurrences, type RecurrentEventData, type Recurrences } from './recurrences.ts';
import { oneOf } from '../option.ts';

export interface MeanCumulativeCountOptions {
  /** Confidence level of the pointwise limits; 0.95 unless told. */
  readonly level?: number | undefined;
  /**
   * Limits symmetric on the log scale (unless told) or on the plain scale, where the lower one may fall below
   * 0.
   */
  readonly interval?: 'log' | 'plain' | undefined;
  /**
   * Labels whose subjects form clusters, one a row, the same in all rows of a subject; the subject itself
   * unless told.
   */
  readonly cluster?: ArrayLike<string | number> | undefined;
}

/** One entry for each distinct time of an event or an end of follow-up, in ascending order. */
export interface MeanCumulativeCount {
  readonly time: readonly number[];
  /** Subjects under observation just before the time. */
  readonly atRisk: readonly number[];
  readonly events: readonly number[];
  /** Mean number of events a subject up to and including the time. */
  readonly mean: readonly number[];
  readonly standardError: readonly number[];
  readonly lower: readonly (number | undefined)[];
  readonly upper: readonly (number | undefined)[];
  /** Number of subjects. */
  readonly n: number;
  readonly level: number;
}

/**
 * Mean cumulative count of recurrent events: the sum over times of events / subjects under observation.
 *
 * - A subject is under observation over (entry, end]; its events do not end it. Two events of one subject at
 *   one time count as two.
 * - Robust standard error: the root of the sum over subjects of the square of the sum over times of (own
 *   events - under observation times mean events) / subjects under observation. It allows for any dependence
 *   between the events of a subject.
 * - Log limits are undefined while the mean is 0.
 *
 * Linear in rows and subjects but for the sort.
 *
 * @throws StatisticsError `out-of-range` for a time after the end, or differing ends of a subject;
 *   `entry-not-before-exit`; and as `kaplanMeier`
 * @example meanCumulativeCount({ subject: [1, 1, 2], time: [3, 5, 4], event: [1, 1, 0], end: [6, 6, 4] }).mean
 *   // [0.5, 0.5, 1.5, 1.5]
 *
 * Source: Nelson, J Qual Technol 1988;20:24-35; Lawless and Nadeau, Technometrics 1995;37:158-168.
 */
export function meanCumulativeCount(
  data: RecurrentEventData,
  options: MeanCumulativeCountOptions = {},
): MeanCumulativeCount {
  const level = confidenceLevel(options.level);
  const interval = oneOf('interval', options.interval, ['log', 'plain'], 'log');
  const all = checkedRecurrences(data);
  const steps = countSteps(all);
  const standardError = robustErrors(all, steps, clusterOfSubject(all, options.cluster));
  const z = normalQuantile((1 + level) / 2);
  const limit = (side: number) =>
    Array.from(steps.mean, (mean, k) => {
      const distance = side * z * (standardError[k] ?? 0);
      if (interval === 'plain') return mean + distance;
      return mean > 0 ? mean * Math.exp(distance / mean) : undefined;
    });
  return {
    time: Array.from(steps.times),
    atRisk: Array.from(steps.atRisk),
    events: Array.from(steps.events),
    mean: Array.from(steps.mean),
    standardError,
    lower: limit(-1),
    upper: limit(1),
    n: all.labels.length,
    level,
  };
}

interface CountSteps {
  readonly times: Float64Array;
  readonly endPlace: Int32Array;
  readonly entryPlace: Int32Array;
  /** Place of each row's time. */
  readonly place: Int32Array;
  readonly atRisk: Float64Array;
  readonly events: Float64Array;
  readonly mean: Float64Array;
}

function countSteps({ entry, end, time, event }: Recurrences): CountSteps {
  const subjects = end.length;
  // Times of rows without an event are not kept: the end of follow-up stands in for them.
  const both = new Float64Array(subjects + time.length);
  both.set(end);
  for (let i = 0; i < time.length; i++)
    both[subjects + i] = event[i] === 1 ? (time[i] as number) : (end[0] as number);
  const { times, place: places } = distinctTimes(both);
  const size = times.length;
  const endPlace = places.slice(0, subjects);
  const place = places.slice(subjects);
  const entryPlace = Int32Array.from(entry, at => (at > 0 ? firstLater(times, at) : 0));
  const change = new Float64Array(size + 1);
  for (let s = 0; s < subjects; s++) {
    const from = entryPlace[s] as number;
    const after = (endPlace[s] as number) + 1;
    change[from] = (change[from] as number) + 1;
    change[after] = (change[after] as number) - 1;
  }
  const events = new Float64Array(size);
  for (let i = 0; i < place.length; i++) {
    const k = place[i] as number;
    events[k] = (events[k] as number) + (event[i] as number);
  }
  const atRisk = new Float64Array(size);
  const mean = new Float64Array(size);
  let here = 0;
  let sum = 0;
  for (let k = 0; k < size; k++) {
    here += change[k] as number;
    atRisk[k] = here;
    if ((events[k] as number) > 0) sum += (events[k] as number) / here;
    mean[k] = sum;
  }
  return { times, endPlace, entryPlace, place, atRisk, events, mean };
}

function clusterOfSubject(
  { subject, labels }: Recurrences,
  cluster: ArrayLike<string | number> | undefined,
): Int32Array {
  const own = Int32Array.from(labels, (_, s) => s);
  if (cluster === undefined) return own;
  const { codes } = codedLabels('cluster', cluster, subject.length);
  for (let i = 0; i < subject.length; i++) own[subject[i] as number] = codes[i] as number;
  return own;
}

/**
 * As in `sumOfSquaredInfluence`: a cluster is a fixed part and the number of its subjects under observation,
 * changed only when something happens to it.
 */
function robustErrors(
  { subject, event, time }: Recurrences,
  steps: CountSteps,
  cluster: Int32Array,
): number[] {
  const { endPlace, entryPlace, place, atRisk, events } = steps;
  const size = steps.times.length;
  const entering = orderByKey(entryPlace, size);
  const leaving = orderByKey(endPlace, size);
  const happening = orderByKey(place, size);
  const clusters = cluster.reduce((most, c) => Math.max(most, c), 0) + 1;
  const fixed = new Float64Array(clusters);
  const here = new Float64Array(clusters);
  let fixedFixed = 0;
  let fixedHere = 0;
  let hereHere = 0;
  const change = (c: number, addFixed: number, addHere: number): void => {
    const f = fixed[c] as number;
    const w = here[c] as number;
    fixedFixed += addFixed * (2 * f + addFixed);
    fixedHere += (f + addFixed) * (w + addHere) - f * w;
    hereHere += addHere * (2 * w + addHere);
    fixed[c] = f + addFixed;
    here[c] = w + addHere;
  };
  const errors: number[] = [];
  let entered = 0;
  let happened = 0;
  let left = 0;
  let drift = 0;
  for (let k = 0; k < size; k++) {
    for (; entered < entering.length && entryPlace[entering[entered] as number] === k; entered++) {
      change(cluster[entering[entered] as number] as number, drift, 1);
    }
    const n = atRisk[k] as number;
    if ((events[k] as number) > 0) drift += (events[k] as number) / n ** 2;
    for (; happened < time.length && place[happening[happened] as number] === k; happened++) {
      const row = happening[happened] as number;
      if (event[row] === 1) change(cluster[subject[row] as number] as number, 1 / n, 0);
    }
    for (; left < leaving.length && endPlace[leaving[left] as number] === k; left++) {
      change(cluster[leaving[left] as number] as number, -drift, -1);
    }
    errors.push(Math.sqrt(differenceOfSums(fixedFixed + drift * drift * hereHere, 2 * drift * fixedHere)));
  }
  return errors;
}
