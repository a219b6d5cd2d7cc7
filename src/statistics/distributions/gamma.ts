import { incompleteGamma } from './incomplete-gamma.ts';
import { normalQuantile } from './normal.ts';
import { positiveRoot } from './root.ts';
import { requireOpenProbability, requirePositive } from './tails.ts';

/**
 * Lower tail of the gamma distribution with the given shape and rate.
 *
 * @example gammaCumulative(2, 3) // 0.3233
 */
export function gammaCumulative(x: number, shape: number, rate = 1): number {
  requirePositive('rate', rate);
  return incompleteGamma(shape, x * rate).lower;
}

/**
 * Upper tail of the gamma distribution.
 *
 * @example gammaUpperTail(2, 3) // 0.6767
 */
export function gammaUpperTail(x: number, shape: number, rate = 1): number {
  requirePositive('rate', rate);
  return incompleteGamma(shape, x * rate).upper;
}

/**
 * Natural logarithm of the lower tail.
 *
 * @example gammaLogCumulative(1e-6, 20) // -318.6
 */
export function gammaLogCumulative(x: number, shape: number, rate = 1): number {
  requirePositive('rate', rate);
  return incompleteGamma(shape, x * rate).logLower;
}

/**
 * Natural logarithm of the upper tail.
 *
 * @example gammaLogUpperTail(1000, 3) // -986.9
 */
export function gammaLogUpperTail(x: number, shape: number, rate = 1): number {
  requirePositive('rate', rate);
  return incompleteGamma(shape, x * rate).logUpper;
}

/**
 * The x with probability p at or below it.
 *
 * @throws StatisticsError `out-of-range` unless 0 < p < 1 and shape and rate are above 0
 * @example gammaQuantile(0.5, 3) // 2.674
 */
export function gammaQuantile(p: number, shape: number, rate = 1): number {
  requireOpenProbability('p', p);
  requirePositive('rate', rate);
  return (p <= 0.5 ? fromLower(p, shape) : fromUpper(1 - p, shape)) / rate;
}

/**
 * The x with probability q above it; keeps its accuracy for q far below 1e-16.
 *
 * @example gammaQuantileUpper(0.05, 3) // 6.296
 */
export function gammaQuantileUpper(q: number, shape: number, rate = 1): number {
  requireOpenProbability('q', q);
  requirePositive('rate', rate);
  return (q <= 0.5 ? fromUpper(q, shape) : fromLower(1 - q, shape)) / rate;
}

function fromLower(p: number, shape: number): number {
  requirePositive('shape', shape);
  const log = Math.log(p);
  return positiveRoot(x => log - incompleteGamma(shape, x).logLower, start(shape, normalQuantile(p)));
}

function fromUpper(q: number, shape: number): number {
  requirePositive('shape', shape);
  const log = Math.log(q);
  return positiveRoot(x => incompleteGamma(shape, x).logUpper - log, start(shape, -normalQuantile(q)));
}

/** A first guess from the cube root's near normality (Wilson and Hilferty, PNAS 1931;17:684-688). */
function start(shape: number, z: number): number {
  const cube = 1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape));
  return shape > 0.5 && cube > 0.1 ? shape * cube ** 3 : Math.max(shape, 1e-3) * 0.5;
}
