import { incompleteBeta, incompleteBetaInverse } from './incomplete-beta.ts';
import { requirePoint, requirePositive, requireProbability } from './tails.ts';
import type { Tails } from './tails.ts';

/**
 * Lower tail of the beta distribution with shapes a and b: the probability of x or less.
 *
 * @example betaCumulative(0.5, 2, 3) // 0.6875
 */
export function betaCumulative(x: number, a: number, b: number): number {
  return tails(x, a, b).lower;
}

/**
 * Upper tail of the beta distribution.
 *
 * @example betaUpperTail(0.5, 2, 3) // 0.3125
 */
export function betaUpperTail(x: number, a: number, b: number): number {
  return tails(x, a, b).upper;
}

/**
 * Natural logarithm of the lower tail.
 *
 * @example betaLogCumulative(1e-9, 50, 3) // -1029
 */
export function betaLogCumulative(x: number, a: number, b: number): number {
  return tails(x, a, b).logLower;
}

/**
 * Natural logarithm of the upper tail.
 *
 * @example betaLogUpperTail(0.999, 3, 200) // -1372
 */
export function betaLogUpperTail(x: number, a: number, b: number): number {
  return tails(x, a, b).logUpper;
}

/**
 * The x with probability p at or below it; 0 at p = 0 and 1 at p = 1.
 *
 * @throws StatisticsError `out-of-range` unless 0 <= p <= 1 and both shapes are above 0
 * @example betaQuantile(0.5, 2, 3) // 0.3857
 */
export function betaQuantile(p: number, a: number, b: number): number {
  requireProbability('p', p);
  requirePositive('a', a);
  requirePositive('b', b);
  return p === 0 || p === 1 ? p : incompleteBetaInverse('lower', p, a, b).x;
}

/**
 * The x with probability q above it; keeps its accuracy for q far below 1e-16.
 *
 * @example betaQuantileUpper(0.025, 2, 3) // 0.8059
 */
export function betaQuantileUpper(q: number, a: number, b: number): number {
  requireProbability('q', q);
  requirePositive('a', a);
  requirePositive('b', b);
  return q === 0 || q === 1 ? 1 - q : incompleteBetaInverse('upper', q, a, b).x;
}

function tails(x: number, a: number, b: number): Tails {
  requirePoint('x', x);
  return incompleteBeta(a, b, x);
}
