import { StatisticsError } from '../errors.ts';
import type { SurvivalCurve } from './curve.ts';

/** A time, undefined where the curve does not reach the level. */
export interface QuantileEstimate {
  readonly estimate: number | undefined;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}

/** Closer than this, a curve is taken to equal the level: products of fractions are off by rounding. */
const equalTo = 1.5e-8;

/** Values of one flat stretch can differ by rounding; they are one value, and its first time counts. */
const sameValue = 1e-12;

/**
 * The time by which a share p has had the event (p = 0.5: the median): the first time at which survival is 1
 * - p or less. Where survival equals 1 - p over an interval, the middle of that interval, which ends at the
 * next drop or, without one, at the last observed time.
 *
 * The limits are the times at which the lower and the upper pointwise limit cross 1 - p in the same way, so
 * they depend on the kind of interval. Where an interval curve is not monotone, which happens with few at
 * risk, the step that ends nearest the level counts. Undefined where not reached.
 *
 * @throws StatisticsError `out-of-range` unless 0 < p < 1
 * @example survivalQuantile(curve, 0.5).estimate // 84
 *
 * Source: Brookmeyer and Crowley, Biometrics 1982;38:29-41.
 */
export function survivalQuantile(curve: SurvivalCurve, p: number): QuantileEstimate {
  if (!(p > 0 && p < 1)) {
    throw new StatisticsError('out-of-range', `p is ${p}; a number between 0 and 1 is needed`);
  }
  return {
    estimate: crossing(curve.time, curve.survival, 1 - p),
    lower: crossing(curve.time, curve.lower, 1 - p),
    upper: crossing(curve.time, curve.upper, 1 - p),
  };
}

/**
 * The time at which a step function falls to the level, or the middle of the stretch on which it equals it.
 * Interval curves can rise again: the step taken is the one that ends nearest the level, at it or below.
 */
export function crossing(
  time: readonly number[],
  values: readonly (number | undefined)[],
  level: number,
): number | undefined {
  const reached = nearestBelow(values, level + equalTo);
  if (reached === undefined) return undefined;
  const passed = nearestBelow(values, level - equalTo);
  const from = time[reached] ?? 0;
  return (from + (passed === undefined ? (time.at(-1) ?? from) : (time[passed] ?? from))) / 2;
}

/** The first place of the highest value at or below the level. */
function nearestBelow(values: readonly (number | undefined)[], level: number): number | undefined {
  let place: number | undefined;
  let best = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < values.length; k++) {
    const value = values[k];
    if (value === undefined || value > level || value <= best + sameValue) continue;
    best = value;
    place = k;
  }
  return place;
}
