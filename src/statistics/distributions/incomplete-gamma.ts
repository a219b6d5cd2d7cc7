import { StatisticsError } from '../errors.ts';
import { devianceHalf, HALF_LOG_TWO_PI, logGammaOnePlus, stirlingError } from './gamma-function.ts';
import {
  ALL_ABOVE,
  ALL_BELOW,
  requirePoint,
  requirePositive,
  tailsFromLogLower,
  tailsFromLogUpper,
} from './tails.ts';
import type { Tails } from './tails.ts';

/**
 * Both tails of the regularised incomplete gamma function with shape a at x.
 *
 * Below about the mean the lower tail comes from its power series (Abramowitz and Stegun 6.5.29), above it
 * the upper tail from Legendre's continued fraction (6.5.31); for shapes under 1 and small x the upper tail
 * has its own expansion (Gautschi, ACM Transactions on Mathematical Software 1979;5:466-481). The factor
 * x^a exp(-x) / gamma(a + 1) is formed from its saddle point, so its error does not grow with a.
 *
 * @param a shape, above 0, up to 2e12
 * @param x point; 0 or below gives an empty lower tail
 * @throws StatisticsError `out-of-range`, `missing-value`, `not-finite`
 */
export function incompleteGamma(a: number, x: number): Tails {
  requirePositive('shape', a);
  requirePoint('x', x);
  // The series has some root of the shape terms, and none that shrink once the shape dwarfs 1.
  if (a > LARGEST_SHAPE) {
    throw new StatisticsError('out-of-range', `shape is ${a}; at most 2e12 can be used`);
  }
  if (x <= 0) return ALL_ABOVE;
  if (x === Number.POSITIVE_INFINITY) return ALL_BELOW;
  if (x >= Math.max(1, a + 1) || (a < 1 && x >= 1)) {
    return tailsFromLogUpper(logFactor(a, x) + Math.log(a) - Math.log(legendreFraction(a, x)));
  }
  const logLower = logFactor(a, x) + Math.log(lowerSeries(a, x));
  if (a < 1 && logLower > -Math.LN2) return tailsFromLogUpper(Math.log(smallShapeUpper(a, x)));
  return tailsFromLogLower(logLower);
}

const LARGEST_SHAPE = 2e12;

/** log(x^a exp(-x) / gamma(a + 1)) */
function logFactor(a: number, x: number): number {
  if (a < 1) return a * Math.log(x) - x - logGammaOnePlus(a);
  return -devianceHalf(a, x) - stirlingError(a) - HALF_LOG_TWO_PI - 0.5 * Math.log(a);
}

/** 1 + x/(a+1) + x^2/((a+1)(a+2)) + ... with compensated summation, as there may be thousands of terms. */
function lowerSeries(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  let lost = 0;
  let n = a;
  while (term > sum * 1e-17) {
    n += 1;
    term *= x / n;
    const y = term - lost;
    const next = sum + y;
    lost = next - sum - y;
    sum = next;
  }
  return sum;
}

/** The denominator of x^a exp(-x)/gamma(a) in the upper tail: x + 1 - a - 1(1-a)/(x + 3 - a - ...), by Lentz's method. */
function legendreFraction(a: number, x: number): number {
  const tiny = 1e-290;
  let b = x + 1 - a;
  let f = Math.abs(b) < tiny ? tiny : b;
  let c = f;
  let d = 0;
  for (let n = 1; n < 10_000_000; n++) {
    const numerator = -n * (n - a);
    b += 2;
    d = b + numerator * d;
    if (Math.abs(d) < tiny) d = tiny;
    d = 1 / d;
    c = b + numerator / c;
    if (Math.abs(c) < tiny) c = tiny;
    const change = c * d;
    f *= change;
    if (Math.abs(change - 1) < 2e-16) break;
  }
  return f;
}

/** Upper tail for a < 1 and x < 1: 1 - x^a/gamma(a+1), less the rest of the alternating series. */
function smallShapeUpper(a: number, x: number): number {
  const log = a * Math.log(x) - logGammaOnePlus(a);
  let term = 1;
  let sum = 0;
  for (let n = 1; n < 60; n++) {
    term *= -x / n;
    const part = term / (a + n);
    sum += part;
    if (Math.abs(part) < 1e-18 * Math.abs(sum)) break;
  }
  return -Math.expm1(log) - a * Math.exp(log) * sum;
}
