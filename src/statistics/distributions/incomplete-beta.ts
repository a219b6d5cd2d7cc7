import { StatisticsError } from '../errors.ts';
import { devianceHalf, HALF_LOG_TWO_PI, stirlingError } from './gamma-function.ts';
import { rootBetween } from './root.ts';
import { ALL_ABOVE, ALL_BELOW, requirePositive, swapTails, tailsFromLogLower } from './tails.ts';
import type { Tails } from './tails.ts';

/**
 * Natural logarithm of the beta function for a, b > 0.
 *
 * From Stirling's formula with its error terms, so that nothing cancels when one argument dwarfs the other.
 *
 * @throws StatisticsError `out-of-range`, `missing-value`, `not-finite`
 * @example logBeta(2, 3) // -2.485
 */
export function logBeta(a: number, b: number): number {
  requirePositive('a', a);
  requirePositive('b', b);
  const n = a + b;
  return (
    0.5 * (Math.log(n / a) - Math.log(b)) +
    HALF_LOG_TWO_PI +
    stirlingError(a) +
    stirlingError(b) -
    stirlingError(n) -
    a * Math.log1p(b / a) -
    b * Math.log1p(a / b)
  );
}

/**
 * Both tails of the regularised incomplete beta function with shapes a and b at x.
 *
 * The smaller side comes from the continued fraction DLMF 8.17.22 (Didonato and Morris, ACM Transactions on
 * Mathematical Software 1992;18:360-373), the factor before it from its saddle point. The complement
 * y = 1 - x is an argument of its own, as callers often have it without cancellation.
 * For shapes below 0.01 the tail next to that shape's end is accurate to about 1e-16 divided by the shape.
 *
 * @throws StatisticsError `out-of-range`, `missing-value`, `not-finite`
 */
export function incompleteBeta(a: number, b: number, x: number, y: number = 1 - x): Tails {
  requirePositive('a', a);
  requirePositive('b', b);
  if (a > LARGEST_SHAPE || b > LARGEST_SHAPE) {
    throw new StatisticsError('out-of-range', `shapes are ${a} and ${b}; at most 2e12 can be used`);
  }
  if (x <= 0) return ALL_ABOVE;
  if (y <= 0) return ALL_BELOW;
  if (x * (a + b + 2) > a + 1) return swapTails(incompleteBetaBelowMean(b, a, y, x));
  return incompleteBetaBelowMean(a, b, x, y);
}

const LARGEST_SHAPE = 2e12;

function incompleteBetaBelowMean(a: number, b: number, x: number, y: number): Tails {
  const factor = logFactor(a, b, x, y);
  return tailsFromLogLower(
    a + b > MANY
      ? factor + Math.log(contractedFraction(a, b, x, y))
      : factor - Math.log(a) + Math.log(betaFraction(a, b, x)),
  );
}

/** Sums of shapes from which 1 - (a + b) x / (a + 1) loses digits that matter. */
const MANY = 100;

/** a - (a + b) x = (a + b) y - b, from the smaller coordinate, whose product has the smaller rounding. */
function belowMean(a: number, b: number, x: number, y: number): number {
  return x <= y ? a - (a + b) * x : (a + b) * y - b;
}

/**
 * The even part of the same continued fraction, 1/(b1 + a2/(b2 + ...)), by Lentz's method: it holds x only in the
 * difference from the mean, so large shapes cost no digits (Didonato and Morris, equations 9 and 10).
 */
function contractedFraction(a: number, b: number, x: number, y: number): number {
  const tiny = 1e-290;
  const guard = (value: number): number => (Math.abs(value) < tiny ? tiny : value);
  const gap = 1 + belowMean(a, b, x, y);
  let f = guard((gap * a) / (a + 1));
  let c = f;
  let d = 0;
  for (let n = 1; n < 10_000_000; n++) {
    const odd = a + 2 * n - 1;
    const w = n * (b - n) * x;
    const numerator = ((a + n - 1) / odd) * ((a + b + n - 1) / odd) * w * x;
    const next = n + w / odd + ((a + n) / (odd + 2)) * (gap + n * (1 + y));
    d = 1 / guard(next + numerator * d);
    c = guard(next + numerator / c);
    f *= c * d;
    if (Math.abs(c * d - 1) < 2e-16) break;
  }
  return 1 / f;
}

/** log(x^a y^b / B(a, b)) */
function logFactor(a: number, b: number, x: number, y: number): number {
  const n = a + b;
  const excess = belowMean(a, b, x, y);
  return (
    stirlingError(n) -
    stirlingError(a) -
    stirlingError(b) -
    devianceHalf(a, n * x, excess) -
    devianceHalf(b, n * y, -excess) +
    0.5 * (Math.log(a / n) + Math.log(b)) -
    HALF_LOG_TWO_PI
  );
}

/** 1/(1 + d1/(1 + d2/(1 + ...))) by Lentz's method, two terms a turn. */
function betaFraction(a: number, b: number, x: number): number {
  const tiny = 1e-290;
  const guard = (value: number): number => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / guard(1 - ((a + b) * x) / (a + 1));
  let f = d;
  for (let m = 1; m < 10_000_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / guard(1 + even * d);
    c = guard(1 + even / c);
    f *= c * d;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / guard(1 + odd * d);
    c = guard(1 + odd / c);
    f *= c * d;
    if (Math.abs(c * d - 1) < 2e-16) break;
  }
  return f;
}

/** A point of the unit interval with its complement, so that neither is lost next to an end. */
export interface UnitPoint {
  readonly x: number;
  readonly y: number;
}

/**
 * The point at which one tail of the incomplete beta function has the given value.
 *
 * @param tail which tail `probability` is; give the one that is known without cancellation
 * @param probability strictly between 0 and 1
 */
export function incompleteBetaInverse(
  tail: 'lower' | 'upper',
  probability: number,
  a: number,
  b: number,
): UnitPoint {
  if (probability > 0.5) {
    return incompleteBetaInverse(tail === 'lower' ? 'upper' : 'lower', 1 - probability, a, b);
  }
  const log = Math.log(probability);
  // Increasing in x: below 0 left of the root.
  const excess = (x: number, y: number): number => {
    const tails = incompleteBeta(a, b, x, y);
    return tail === 'lower' ? tails.logLower - log : log - tails.logUpper;
  };
  if (excess(0.5, 0.5) >= 0) {
    const x = smallRoot(u => excess(u, 1 - u));
    return { x, y: 1 - x };
  }
  const y = smallRoot(u => -excess(1 - u, u));
  return { x: 1 - y, y };
}

/**
 * The root in (0, 1/2] of an increasing function: the bracket is first narrowed on the logarithmic scale.
 * A root below the smallest normal double is given as 0.
 */
function smallRoot(f: (u: number) => number): number {
  let high = 0.5;
  let low = 0.125;
  while (f(low) > 0) {
    if (low <= SMALLEST_NORMAL) return 0;
    high = low;
    low = Math.max(low * low, SMALLEST_NORMAL);
  }
  while (high > 4 * low) {
    const middle = Math.sqrt(low) * Math.sqrt(high);
    if (f(middle) > 0) high = middle;
    else low = middle;
  }
  return rootBetween(f, low, high);
}

const SMALLEST_NORMAL = 2 ** -1022;
