import { normalQuantileUpper } from '../distributions/normal.ts';
import { StatisticsError } from '../errors.ts';
import { requireOption } from '../option.ts';

export interface TestOptions {
  /** Size of the test; default 0.05. */
  readonly alpha?: number | undefined;
  /** Probability of finding the effect; default 0.8. */
  readonly power?: number | undefined;
  /** Default 2. */
  readonly sides?: 1 | 2 | undefined;
}

/** Normal quantiles of a test: beyond `alpha` of its size, and `beta` of its power. */
export function testQuantiles(options: TestOptions): { alpha: number; beta: number } {
  const { alpha = 0.05, power = 0.8, sides = 2 } = options;
  between('alpha', alpha, 0, 1);
  between('power', power, 0, 1);
  requireSides(sides);
  return { alpha: normalQuantileUpper(alpha / sides), beta: normalQuantileUpper(1 - power) };
}

/** @throws StatisticsError `unknown-option` */
export function requireSides(sides: number): void {
  requireOption('sides', sides, [1, 2]);
}

/** @throws StatisticsError `out-of-range` unless strictly between the bounds */
export function between(name: string, value: number, low: number, high: number): void {
  if (!(value > low && value < high)) {
    throw new StatisticsError('out-of-range', `${name} is ${value}; between ${low} and ${high} is needed`);
  }
}
