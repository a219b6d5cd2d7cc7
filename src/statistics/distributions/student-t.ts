import { StatisticsError } from '../errors.ts';
import { incompleteBeta, incompleteBetaInverse, logBeta } from './incomplete-beta.ts';
import { requireOpenProbability, requirePoint, requirePositive, tailsFromLogLower } from './tails.ts';
import type { Tails } from './tails.ts';

/**
 * Lower tail of Student's t distribution: the probability of t or less.
 *
 * @example studentTCumulative(2.086, 20) // 0.975
 */
export function studentTCumulative(t: number, degreesOfFreedom: number): number {
  return studentTUpperTail(-t, degreesOfFreedom);
}

/**
 * Upper tail of Student's t distribution: the probability of more than t, from the incomplete beta function of
 * df/(df + t^2) (Abramowitz and Stegun 26.7.1). Degrees of freedom need not be whole.
 *
 * @throws StatisticsError `out-of-range` unless the degrees of freedom are above 0, `missing-value`
 * @example studentTUpperTail(2.086, 20) // 0.025
 */
export function studentTUpperTail(t: number, degreesOfFreedom: number): number {
  const { upper, lower } = outsideAndWithin(t, degreesOfFreedom);
  return t > 0 ? 0.5 * lower : 0.5 + 0.5 * upper;
}

/**
 * Natural logarithm of the lower tail.
 *
 * @example studentTLogCumulative(-1e6, 20) // -248.8
 */
export function studentTLogCumulative(t: number, degreesOfFreedom: number): number {
  return studentTLogUpperTail(-t, degreesOfFreedom);
}

/**
 * Natural logarithm of the upper tail.
 *
 * @example studentTLogUpperTail(1e6, 20) // -248.8
 */
export function studentTLogUpperTail(t: number, degreesOfFreedom: number): number {
  const { logLower, lower } = outsideAndWithin(t, degreesOfFreedom);
  return t > 0 ? logLower - Math.LN2 : Math.log1p(-0.5 * lower);
}

/**
 * Two-sided p-value of a t statistic: the probability of |T| at least |t|.
 *
 * @example twoSidedStudentT(2.086, 20) // 0.05
 */
export function twoSidedStudentT(t: number, degreesOfFreedom: number): number {
  return outsideAndWithin(t, degreesOfFreedom).lower;
}

/**
 * The t with probability p at or below it.
 *
 * @throws StatisticsError `out-of-range` unless 0 < p < 1 and the degrees of freedom are above 0
 * @example studentTQuantile(0.975, 20) // 2.086
 */
export function studentTQuantile(p: number, degreesOfFreedom: number): number {
  requireOpenProbability('p', p);
  return p <= 0.5 ? 0 - quantileOfTail(p, degreesOfFreedom) : quantileOfTail(1 - p, degreesOfFreedom);
}

/**
 * The t with probability q above it; keeps its accuracy for q far below 1e-16.
 *
 * @example studentTQuantileUpper(0.025, 20) // 2.086
 */
export function studentTQuantileUpper(q: number, degreesOfFreedom: number): number {
  requireOpenProbability('q', q);
  return q <= 0.5 ? quantileOfTail(q, degreesOfFreedom) : 0 - quantileOfTail(1 - q, degreesOfFreedom);
}

/** Below this df/t^2 the tail is its leading power alone, to far more than double precision. */
const FAR = 1e-250;

/** log of the leading power of the two-sided tail: x^a / (a B(a, 1/2)) with x = df/t^2 and a = df/2. */
function logFarTail(size: number, degreesOfFreedom: number): number {
  if (size === Number.POSITIVE_INFINITY) return Number.NEGATIVE_INFINITY;
  const a = degreesOfFreedom / 2;
  return a * (Math.log(degreesOfFreedom) - 2 * Math.log(size)) - Math.log(a) - logBeta(a, 0.5);
}

/** Probability outside -|t| to |t| (lower) and within it (upper), by way of df/(df + t^2). */
function outsideAndWithin(t: number, degreesOfFreedom: number): Tails {
  requirePoint('t', t);
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  // Divided twice, as t^2 may overflow or underflow where the ratio does not.
  const size = Math.abs(t);
  if (size * size > degreesOfFreedom) {
    const ratio = degreesOfFreedom / size / size;
    if (ratio < FAR) return tailsFromLogLower(logFarTail(size, degreesOfFreedom));
    return incompleteBeta(degreesOfFreedom / 2, 0.5, ratio / (1 + ratio), 1 / (1 + ratio));
  }
  const ratio = (size / degreesOfFreedom) * size;
  return incompleteBeta(degreesOfFreedom / 2, 0.5, 1 / (1 + ratio), ratio / (1 + ratio));
}

function quantileOfTail(q: number, degreesOfFreedom: number): number {
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  if (q === 0.5) return 0;
  const farLog = (logFarTail(1, degreesOfFreedom) - Math.log(2 * q)) / degreesOfFreedom;
  if (farLog > -0.5 * Math.log(FAR)) {
    if (farLog < 709) return Math.exp(farLog);
    throw new StatisticsError(
      'out-of-range',
      `the t with a tail of ${q} on ${degreesOfFreedom} degrees of freedom is beyond the largest double`,
    );
  }
  const { x, y } =
    q < 0.25
      ? incompleteBetaInverse('lower', 2 * q, degreesOfFreedom / 2, 0.5)
      : incompleteBetaInverse('upper', 1 - 2 * q, degreesOfFreedom / 2, 0.5);
  return Math.sqrt(degreesOfFreedom) * Math.sqrt(y / x);
}
