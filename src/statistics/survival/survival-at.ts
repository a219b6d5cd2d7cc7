import { finiteColumn } from '../columns.ts';
import { firstLater } from '../distinct-times.ts';
import { normalQuantile } from '../distributions/normal.ts';
import { probabilityLimits } from '../probability-interval.ts';
import { type SurvivalCurve, sourceOf } from './curve.ts';
import type { CurveSource } from './curve.ts';

export interface SurvivalAtTime {
  readonly time: number;
  readonly survival: number;
  readonly standardError: number | undefined;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  /** At risk just before the time. */
  readonly atRisk: number;
  /**
   * The time is later than the last observed one: the values are those at the end of follow-up, carried
   * forward.
   */
  readonly beyondFollowUp: boolean;
}

/**
 * The curve read at given times, in the order given: survival after any event at the time itself. Before the
 * first observed time survival is 1 with standard error 0. Past the last one the last values are carried
 * forward and `beyondFollowUp` is true.
 *
 * `atRisk` counts those at risk just before the time. For a curve with late entry that has been copied or
 * read from a file, it is the number at risk just before the next observed time.
 *
 * The estimate is that of `kaplanMeier`, a step function that is continuous from the right: S(t) is its value at the
 * last event time not after t.
 *
 * @throws StatisticsError for empty, missing or infinite times
 * @example survivalAt(curve, [28, 84]).map(({ survival }) => survival) // [1, 0.45]
 */
export function survivalAt(curve: SurvivalCurve, times: ArrayLike<number>): readonly SurvivalAtTime[] {
  const observed = Float64Array.from(curve.time);
  const last = observed[observed.length - 1] ?? 0;
  const source = sourceOf(curve);
  const counted = source?.rows.entry && atRiskFromRows(source);
  return Array.from(finiteColumn('times', times), time => {
    const k = firstLater(observed, time) - 1;
    const atTime = observed[k] === time;
    const atRisk = counted ? counted(time) : (curve.atRisk[atTime ? k : k + 1] ?? 0);
    return { time, ...valuesAt(curve, k), atRisk, beyondFollowUp: time > last };
  });
}

function valuesAt(curve: SurvivalCurve, k: number) {
  const survival = curve.survival[k];
  if (survival !== undefined) {
    return { survival, standardError: curve.standardError[k], lower: curve.lower[k], upper: curve.upper[k] };
  }
  const z = normalQuantile((1 + curve.level) / 2);
  return { survival: 1, standardError: 0, ...probabilityLimits(1, 0, z, curve.interval) };
}

function atRiskFromRows({ rows }: CurveSource): (time: number) => number {
  return time => {
    let sum = 0;
    for (let i = 0; i < rows.time.length; i++) {
      const entry = rows.entry?.[i] ?? 0;
      if ((rows.time[i] as number) >= time && (entry === 0 || entry < time)) sum += rows.weight?.[i] ?? 1;
    }
    return sum;
  };
}
