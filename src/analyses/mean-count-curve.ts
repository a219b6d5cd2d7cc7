import type { Count } from '../wording/hidden-count.ts';

/**
 * The mean number of events a foot by time, a step curve that starts at 0 and has no upper bound. Limits are absent
 * while the mean is 0.
 */
export interface MeanCountCurve {
  /** Unique within the finding, such as `meanCount.severe`. */
  readonly key: string;
  readonly group: string;
  /** The phrase for the axis, such as `Relapses a foot`. */
  readonly measure: string;
  readonly timeUnit: 'weeks';
  readonly time: readonly number[];
  readonly mean: readonly number[];
  readonly standardError: readonly number[];
  readonly lower: readonly (number | undefined)[];
  readonly upper: readonly (number | undefined)[];
  /** Feet under observation just before each time. */
  readonly atRisk: readonly Count[];
  readonly n: Count;
  readonly infants: Count;
  readonly events: Count;
}
