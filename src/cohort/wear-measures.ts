import type { Plan } from '../plan/plan.ts';
import type { FootWear } from './cohort.ts';

/** Slack for thresholds of adherence, so that 9.6 of 12 hours is 80 %. */
export const ADHERENCE_SLACK = 1e-9;

/** Adherence of each day with data: hours worn over hours expected, as a fraction; more than 1 is allowed. */
export function dailyAdherence(wear: FootWear): Float64Array {
  return wear.hours.map((hours, i) => hours / (wear.expected[i] as number));
}

/** Place of the first day with data on or after `day`; the number of days with data if there is none. */
export function firstPlaceFrom(wear: FootWear, day: number): number {
  let low = 0;
  let high = wear.day.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((wear.day[middle] as number) < day) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Adherence over a stretch of days. */
export interface AdherenceOver {
  /** Adherence days in the stretch, and those of them with data. */
  readonly days: number;
  readonly daysWithData: number;
  readonly hoursWorn: number;
  /** Hours expected on the days with data. */
  readonly hoursExpected: number;
  /** Hours worn over hours expected; undefined without data. */
  readonly wornOverExpected: number | undefined;
  /** Mean of the daily adherences; undefined without data. */
  readonly meanDaily: number | undefined;
  /** Days with adherence of at least `adherence.coveredAt`. */
  readonly daysCovered: number;
  /** Days covered over days with data; undefined without data. */
  readonly shareCovered: number | undefined;
}

/** Adherence from `firstDay` to `lastDay`, both included; only adherence days count. */
export function adherenceOver(wear: FootWear, firstDay: number, lastDay: number, plan: Plan): AdherenceOver {
  const days = Math.max(0, Math.min(lastDay, wear.lastDay) - Math.max(firstDay, wear.firstDay) + 1);
  const from = firstPlaceFrom(wear, firstDay);
  const to = Math.max(from, firstPlaceFrom(wear, lastDay + 1));
  const covered = plan.adherence.coveredAt - ADHERENCE_SLACK;
  let hoursWorn = 0;
  let hoursExpected = 0;
  let sum = 0;
  let daysCovered = 0;
  for (let i = from; i < to; i++) {
    const hours = wear.hours[i] as number;
    const expected = wear.expected[i] as number;
    hoursWorn += hours;
    hoursExpected += expected;
    sum += hours / expected;
    if (hours / expected >= covered) daysCovered++;
  }
  const daysWithData = to - from;
  const none = daysWithData === 0;
  return {
    days,
    daysWithData,
    hoursWorn,
    hoursExpected,
    wornOverExpected: none ? undefined : hoursWorn / hoursExpected,
    meanDaily: none ? undefined : sum / daysWithData,
    daysCovered,
    shareCovered: none ? undefined : daysCovered / daysWithData,
  };
}

/** Adherence on all adherence days of the foot. */
export function adherenceOfFoot(wear: FootWear, plan: Plan): AdherenceOver {
  return adherenceOver(wear, wear.firstDay, wear.lastDay, plan);
}

/** Adherence in week w since first fitting: days 7w to 7w + 6, w counted from 0. */
export function adherenceInWeek(wear: FootWear, week: number, plan: Plan): AdherenceOver {
  return adherenceOver(wear, 7 * week, 7 * week + 6, plan);
}

/**
 * Mean daily adherence over the `windowDays` days before a day, that day left out (lagged, so that wear on the day of an
 * outcome or after it never explains it). Undefined with fewer than `minimumDays` days of data.
 */
export function meanAdherenceBefore(
  wear: FootWear,
  day: number,
  windowDays: number,
  minimumDays = 1,
): number | undefined {
  const from = firstPlaceFrom(wear, day - windowDays);
  const to = firstPlaceFrom(wear, day);
  return to - from < Math.max(1, minimumDays) ? undefined : meanBetween(wear, from, to);
}

/** Mean daily adherence of the days with data at the places `from` (included) to `to` (excluded). */
export function meanBetween(wear: FootWear, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += (wear.hours[i] as number) / (wear.expected[i] as number);
  return sum / (to - from);
}

/** Cumulative hours worn (the dose) by a day. */
export interface Dose {
  /** Hours recorded on adherence days up to and including the day. */
  readonly hours: number;
  /** Adherence days up to the day, and those of them with data: where they differ, `hours` is less than was worn. */
  readonly days: number;
  readonly daysWithData: number;
}

/**
 * Gives the dose of a foot on any day, from running sums made once. Missing days add nothing to the hours: the caller
 * sees how many there are and decides.
 */
export function doseByDay(wear: FootWear): (day: number) => Dose {
  const running = new Float64Array(wear.day.length + 1);
  for (let i = 0; i < wear.day.length; i++) {
    running[i + 1] = (running[i] as number) + (wear.hours[i] as number);
  }
  return day => {
    const daysWithData = firstPlaceFrom(wear, day + 1);
    return {
      hours: running[daysWithData] as number,
      days: Math.max(0, Math.min(day, wear.lastDay) - wear.firstDay + 1),
      daysWithData,
    };
  };
}
