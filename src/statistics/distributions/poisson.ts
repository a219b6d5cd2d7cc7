import { requireCount, REACHED, smallestPassing } from './counts.ts';
import { incompleteGamma } from './incomplete-gamma.ts';
import { StatisticsError } from '../errors.ts';
import { ALL_ABOVE, ALL_BELOW, requireFinite, requirePoint, requireProbability, swapTails } from './tails.ts';
import type { Tails } from './tails.ts';

/**
 * Probability of `count` or fewer events when `mean` are expected.
 *
 * @example poissonCumulative(2, 4) // 0.2381
 */
export function poissonCumulative(count: number, mean: number): number {
  return tails(count, mean).lower;
}

/**
 * Probability of more than `count` events when `mean` are expected: the lower incomplete gamma function with
 * shape count + 1 at the mean (Abramowitz and Stegun 26.4.21).
 *
 * @throws StatisticsError `out-of-range` for a negative mean, `missing-value`, `not-finite`
 * @example poissonUpperTail(7, 4) // 0.05113
 */
export function poissonUpperTail(count: number, mean: number): number {
  return tails(count, mean).upper;
}

/**
 * Natural logarithm of the lower tail.
 *
 * @example poissonLogCumulative(0, 900) // -900
 */
export function poissonLogCumulative(count: number, mean: number): number {
  return tails(count, mean).logLower;
}

/**
 * Natural logarithm of the upper tail.
 *
 * @example poissonLogUpperTail(900, 4) // -3988
 */
export function poissonLogUpperTail(count: number, mean: number): number {
  return tails(count, mean).logUpper;
}

/**
 * The smallest count whose cumulative probability reaches p.
 *
 * @throws StatisticsError `out-of-range` unless 0 <= p < 1 and the mean is 0 or more
 * @example poissonQuantile(0.975, 4) // 8
 */
export function poissonQuantile(p: number, mean: number): number {
  requireProbability('p', p);
  requireMean(mean);
  if (p === 1) throw new StatisticsError('out-of-range', 'p is 1; no count is large enough');
  const reaches =
    p <= 0.5
      ? (k: number): boolean => poissonCumulative(k, mean) >= p * REACHED
      : (k: number): boolean => poissonUpperTail(k, mean) <= (1 - p) / REACHED;
  return smallestPassing(reaches, 0, countLimit(mean));
}

/** Far beyond any count whose upper tail is still above the smallest double. */
function countLimit(mean: number): number {
  return Math.ceil(mean + 60 * Math.sqrt(mean) + 1000);
}

function requireMean(mean: number): void {
  requireFinite('mean', mean);
  if (mean < 0) throw new StatisticsError('out-of-range', `mean is ${mean}; it must be 0 or more`);
}

function tails(count: number, mean: number): Tails {
  requirePoint('count', count);
  requireMean(mean);
  if (count < 0) return ALL_ABOVE;
  if (mean === 0 || count === Number.POSITIVE_INFINITY) return ALL_BELOW;
  requireCount('count', count);
  return swapTails(incompleteGamma(count + 1, mean));
}
