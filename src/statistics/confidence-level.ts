import { normalQuantileUpper } from './distributions/normal.ts';
import { StatisticsError } from './errors.ts';

/** How sure an interval should be: 0.95 unless given. */
export interface LevelOption {
  readonly level?: number;
}

/** A point estimate with its interval. */
export interface IntervalEstimate {
  readonly estimate: number;
  readonly lower: number;
  readonly upper: number;
}

/** As `IntervalEstimate`, where any part may be infinite or not exist and is then undefined. */
export interface OpenIntervalEstimate {
  readonly estimate: number | undefined;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}

/** A test's result: its statistic, the degrees of freedom where it has them, and a two-sided p-value. */
export interface TestResult {
  readonly statistic: number;
  readonly degreesOfFreedom?: number;
  readonly pValue: number;
}

/**
 * The probability left outside on each side of a two-sided interval: (1 - level)/2.
 *
 * @throws StatisticsError `out-of-range` unless 0 < level < 1
 */
export function tailOutside(options: LevelOption): number {
  const level = options.level ?? 0.95;
  if (!(level > 0 && level < 1)) {
    throw new StatisticsError('out-of-range', `level is ${String(level)}; it must lie between 0 and 1`);
  }
  return (1 - level) / 2;
}

/** The standard normal point that a two-sided interval of the given level reaches: 1.96 for 0.95. */
export function criticalZ(options: LevelOption): number {
  return normalQuantileUpper(tailOutside(options));
}
