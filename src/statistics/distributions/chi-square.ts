import {
  gammaCumulative,
  gammaLogCumulative,
  gammaLogUpperTail,
  gammaQuantile,
  gammaQuantileUpper,
  gammaUpperTail,
} from './gamma.ts';
import { requirePositive } from './tails.ts';

/**
 * Lower tail of the chi-square distribution: the probability of x or less, for degrees of freedom above 0.
 *
 * @example chiSquareCumulative(3.841, 1) // 0.95
 */
export function chiSquareCumulative(x: number, degreesOfFreedom: number): number {
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  return gammaCumulative(x / 2, degreesOfFreedom / 2);
}

/**
 * Upper tail of the chi-square distribution: the p-value of a chi-square statistic. Relative error below 1e-12
 * down to the smallest doubles; at x <= 0 it is 1.
 *
 * @throws StatisticsError `out-of-range` unless the degrees of freedom are above 0, `missing-value`
 * @example chiSquareUpperTail(3.841, 1) // 0.05001
 */
export function chiSquareUpperTail(x: number, degreesOfFreedom: number): number {
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  return gammaUpperTail(x / 2, degreesOfFreedom / 2);
}

/**
 * Natural logarithm of the lower tail.
 *
 * @example chiSquareLogCumulative(1e-6, 20) // -160.2
 */
export function chiSquareLogCumulative(x: number, degreesOfFreedom: number): number {
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  return gammaLogCumulative(x / 2, degreesOfFreedom / 2);
}

/**
 * Natural logarithm of the upper tail; finite where the tail itself is below the smallest double.
 *
 * @example chiSquareLogUpperTail(2000, 1) // -1004
 */
export function chiSquareLogUpperTail(x: number, degreesOfFreedom: number): number {
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  return gammaLogUpperTail(x / 2, degreesOfFreedom / 2);
}

/**
 * The x with probability p at or below it.
 *
 * @throws StatisticsError `out-of-range` unless 0 < p < 1 and the degrees of freedom are above 0
 * @example chiSquareQuantile(0.95, 2) // 5.991
 */
export function chiSquareQuantile(p: number, degreesOfFreedom: number): number {
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  return 2 * gammaQuantile(p, degreesOfFreedom / 2);
}

/**
 * The x with probability q above it.
 *
 * @example chiSquareQuantileUpper(0.05, 2) // 5.991
 */
export function chiSquareQuantileUpper(q: number, degreesOfFreedom: number): number {
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  return 2 * gammaQuantileUpper(q, degreesOfFreedom / 2);
}
