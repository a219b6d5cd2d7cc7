import { StatisticsError } from '../errors.ts';
import { incompleteBeta, incompleteBetaInverse, logBeta } from './incomplete-beta.ts';
import { normalLogUpperTail, normalQuantileUpper } from './normal.ts';
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

/**
 * From so many degrees of freedom on, the tail is that of a normal deviate: the continued fraction of the incomplete
 * beta function would cancel more and more (by 1e-5 at 1e12), and take millions of turns.
 */
const NEARLY_NORMAL = 1e6;

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
    if (degreesOfFreedom >= NEARLY_NORMAL) return nearlyNormalTails(size, degreesOfFreedom);
    return incompleteBeta(degreesOfFreedom / 2, 0.5, ratio / (1 + ratio), 1 / (1 + ratio));
  }
  if (degreesOfFreedom >= NEARLY_NORMAL) return nearlyNormalTails(size, degreesOfFreedom);
  const ratio = (size / degreesOfFreedom) * size;
  return incompleteBeta(degreesOfFreedom / 2, 0.5, 1 / (1 + ratio), ratio / (1 + ratio));
}

/**
 * The normal deviate with the tail of a t: z + (z^3 + 3 z)/b - (4 z^7 + 33 z^5 + 240 z^3 + 855 z)/(10 b (b + 0.8 z^4 +
 * 100)) with z^2 = a log(1 + t^2/df), a = df - 1/2, b = 48 a^2 (Hill, Communications of the ACM 1970;13:617-619).
 */
function hillCorrection(z: number, degreesOfFreedom: number): number {
  // At most 12/df of z; beyond this below its last digit.
  if (degreesOfFreedom > 1e17) return 0;
  const b = 48 * (degreesOfFreedom - 0.5) ** 2;
  const square = z * z;
  const second =
    (((4 * square + 33) * square + 240) * square + 855) / (10 * (b + 0.8 * square * square + 100));
  return (z * (square + 3 - second)) / b;
}

function nearlyNormalTails(size: number, degreesOfFreedom: number): Tails {
  const ratio = (size / degreesOfFreedom) * size;
  // A ratio that underflows has the logarithm 0, though its root times df is |t|.
  const stretch = ratio > 0 ? Math.sqrt(Math.log1p(ratio) / ratio) : 1;
  const z = size * stretch * Math.sqrt((degreesOfFreedom - 0.5) / degreesOfFreedom);
  return tailsFromLogLower(Math.LN2 + normalLogUpperTail(z + hillCorrection(z, degreesOfFreedom)));
}

/** The t whose Hill deviate has the tail q; two turns leave nothing to correct, as the correction is so small. */
function nearlyNormalQuantile(q: number, degreesOfFreedom: number): number {
  const deviate = normalQuantileUpper(q);
  const near = deviate - hillCorrection(deviate, degreesOfFreedom);
  const z = deviate - hillCorrection(near, degreesOfFreedom);
  const power = (z / (degreesOfFreedom - 0.5)) * z;
  const stretch = power > 0 ? Math.sqrt(Math.expm1(power) / power) : 1;
  return z * stretch * Math.sqrt(degreesOfFreedom / (degreesOfFreedom - 0.5));
}

function quantileOfTail(q: number, degreesOfFreedom: number): number {
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  if (q === 0.5) return 0;
  if (degreesOfFreedom >= NEARLY_NORMAL) return nearlyNormalQuantile(q, degreesOfFreedom);
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
