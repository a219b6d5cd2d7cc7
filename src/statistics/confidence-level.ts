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
  return (1 - confidenceLevel(options.level)) / 2;
}

/** The level, or 0.95. @throws StatisticsError `out-of-range` unless it lies strictly between 0 and 1 */
export function confidenceLevel(level: number | undefined): number {
  const value = level ?? 0.95;
  if (value > 0 && value < 1) return value;
  throw new StatisticsError('out-of-range', `level is ${value}; a number between 0 and 1 is needed`);
}

/** The standard normal point that a two-sided interval of the given level reaches: 1.96 for 0.95. */
export function criticalZ(options: LevelOption): number {
  return normalQuantileUpper(tailOutside(options));
}
