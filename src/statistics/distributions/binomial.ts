import { requireCount, REACHED, smallestPassing } from './counts.ts';
import { devianceHalf, HALF_LOG_TWO_PI, stirlingError } from './gamma-function.ts';
import { incompleteBeta } from './incomplete-beta.ts';
import { ALL_ABOVE, ALL_BELOW, requireProbability, swapTails } from './tails.ts';
import type { Tails } from './tails.ts';

/**
 * Probability of `count` or fewer successes in n trials of chance p each.
 *
 * @example binomialCumulative(3, 10, 0.5) // 0.1719
 */
export function binomialCumulative(count: number, n: number, p: number): number {
  return tails(count, n, p).lower;
}

/**
 * Probability of more than `count` successes: the incomplete beta function of p with shapes count + 1 and
 * n - count (Abramowitz and Stegun 26.5.24).
 *
 * @throws StatisticsError `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`
 * @example binomialUpperTail(7, 10, 0.5) // 0.05469
 */
export function binomialUpperTail(count: number, n: number, p: number): number {
  return tails(count, n, p).upper;
}

/**
 * Natural logarithm of the lower tail.
 *
 * @example binomialLogCumulative(0, 1000, 0.9) // -2303
 */
export function binomialLogCumulative(count: number, n: number, p: number): number {
  return tails(count, n, p).logLower;
}

/**
 * Natural logarithm of the upper tail.
 *
 * @example binomialLogUpperTail(999, 1000, 0.1) // -2303
 */
export function binomialLogUpperTail(count: number, n: number, p: number): number {
  return tails(count, n, p).logUpper;
}

/**
 * The smallest count whose cumulative probability reaches p.
 *
 * @example binomialQuantile(0.025, 10, 0.5) // 2
 */
export function binomialQuantile(probability: number, n: number, p: number): number {
  requireProbability('probability', probability);
  const reaches =
    probability <= 0.5
      ? (k: number): boolean => binomialCumulative(k, n, p) >= probability * REACHED
      : (k: number): boolean => binomialUpperTail(k, n, p) <= (1 - probability) / REACHED;
  return smallestPassing(reaches, 0, n);
}

/**
 * log of the probability of exactly `count` successes in n trials, with the complement q = 1 - p given; from the
 * saddle point (Loader, Fast and Accurate Computation of Binomial Probabilities, 2000).
 * @example Math.exp(binomialLogProbability(5, 10, 0.5)) // 0.2461
 */
export function binomialLogProbability(count: number, n: number, p: number, q: number = 1 - p): number {
  requireCount('n', n);
  requireProbability('p', p);
  if (count < 0 || count > n) return Number.NEGATIVE_INFINITY;
  requireCount('count', count);
  if (p === 0) return count === 0 ? 0 : Number.NEGATIVE_INFINITY;
  if (q === 0) return count === n ? 0 : Number.NEGATIVE_INFINITY;
  if (count === 0) return p < 0.5 ? n * Math.log1p(-p) : n * Math.log(q);
  if (count === n) return q < 0.5 ? n * Math.log1p(-q) : n * Math.log(p);
  const rest = n - count;
  const excess = p <= q ? count - n * p : n * q - rest;
  return (
    stirlingError(n) -
    stirlingError(count) -
    stirlingError(rest) -
    devianceHalf(count, n * p, excess) -
    devianceHalf(rest, n * q, -excess) +
    0.5 * (Math.log(n / count) - Math.log(rest)) -
    HALF_LOG_TWO_PI
  );
}

function tails(count: number, n: number, p: number): Tails {
  requireCount('n', n);
  requireProbability('p', p);
  if (count < 0) return ALL_ABOVE;
  if (count >= n) return ALL_BELOW;
  requireCount('count', count);
  if (p === 0) return ALL_BELOW;
  if (p === 1) return ALL_ABOVE;
  return swapTails(incompleteBeta(count + 1, n - count, p));
}
