import { finiteColumn } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import type { TurnbullEstimate } from './turnbull.ts';

export interface TurnbullAtTime {
  readonly time: number;
  /** Undefined within an interval that holds mass: the data do not say. */
  readonly survival: number | undefined;
  /** Survival if all mass of an interval lay just after its lower end, and if it lay at its upper end. */
  readonly lowest: number;
  readonly highest: number;
}

/**
 * Survival by the interval-censored estimate at given times, in the order given, the time itself counted as
 * passed. Inside an innermost interval of `turnbull` survival is known only to lie between its values at the ends.
 *
 * @throws StatisticsError for empty, missing or infinite times
 * @example turnbullAt(intervals, [28, 84]).map(({ survival }) => survival) // [1, 0]
 */
export function turnbullAt(estimate: TurnbullEstimate, times: ArrayLike<number>): readonly TurnbullAtTime[] {
  return Array.from(finiteColumn('times', times), time => {
    let highest = 0;
    let lowest = 0;
    for (const { lower, upper, mass } of estimate.intervals) {
      if (upper > time) highest += mass;
      if (lower >= time && upper > time) lowest += mass;
    }
    const known = highest === lowest;
    return { time, survival: known ? highest : undefined, lowest, highest };
  });
}

/**
 * The interval in which the time lies by which a share p has had the event (p = 0.5: the median); `upper` is
 * undefined if the interval is unbounded. Where survival is exactly 1 - p between two intervals, the stretch
 * between them. It rests on the estimate of `turnbull`.
 *
 * @throws StatisticsError `out-of-range` unless 0 < p < 1
 * @example turnbullQuantile(intervals, 0.5) // { lower: 42, upper: 56 }
 */
export function turnbullQuantile(
  estimate: TurnbullEstimate,
  p: number,
): { readonly lower: number; readonly upper: number | undefined } {
  if (!(p > 0 && p < 1)) {
    throw new StatisticsError('out-of-range', `p is ${p}; a number between 0 and 1 is needed`);
  }
  const finite = (time: number): number | undefined => (Number.isFinite(time) ? time : undefined);
  let passed = 0;
  for (const [j, { lower, upper, mass }] of estimate.intervals.entries()) {
    passed += mass;
    if (passed > p + 1.5e-8) return { lower: Math.max(0, lower), upper: finite(upper) };
    const next = estimate.intervals[j + 1];
    if (passed > p - 1.5e-8) return { lower: upper, upper: next && finite(next.lower) };
  }
  return { lower: Math.max(0, estimate.intervals.at(-1)?.lower ?? 0), upper: undefined };
}
