import { StatisticsError } from '../errors.ts';
import type { RuleSet, Signal } from './signal-rules.ts';

/** One point of a control chart with its own limits. */
export interface ChartPoint {
  readonly index: number;
  readonly value: number;
  readonly centre: number;
  readonly sigma: number;
  readonly lower: number;
  readonly upper: number;
}

export interface ControlChart {
  readonly points: readonly ChartPoint[];
  /** The centre line. */
  readonly centre: number;
  /** Limits at 3 sigma: one value each where they are the same for all points, else absent (see the points). */
  readonly limits?: { readonly lower: number; readonly upper: number };
  readonly signals: readonly Signal[];
  readonly rules: RuleSet;
  /** How many points the centre and the limits were computed from. */
  readonly baseline: number;
}

export interface ChartOptions {
  /** Default `shewhart`. */
  readonly rules?: RuleSet | undefined;
  /** Compute centre and limits from this many first points only; default all. */
  readonly baseline?: number | undefined;
  /** A centre line given from outside, such as a target; else the mean of the baseline. */
  readonly centre?: number | undefined;
}

/** How many points form the baseline. @throws StatisticsError `out-of-range` */
export function baselineLength(options: ChartOptions, n: number, least: number): number {
  const { baseline = n } = options;
  if (!Number.isInteger(baseline) || baseline < least || baseline > n) {
    throw new StatisticsError(
      'out-of-range',
      `the baseline has ${baseline} points; ${least} to ${n} are needed`,
    );
  }
  return baseline;
}
