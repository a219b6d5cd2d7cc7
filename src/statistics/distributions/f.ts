import { incompleteBeta, incompleteBetaInverse } from './incomplete-beta.ts';
import { ALL_ABOVE, ALL_BELOW, requireOpenProbability, requirePoint, requirePositive } from './tails.ts';
import type { Tails } from './tails.ts';

/**
 * Lower tail of the F distribution: the probability of f or less.
 *
 * @example fCumulative(4, 2, 20) // 0.9654
 */
export function fCumulative(f: number, numeratorDf: number, denominatorDf: number): number {
  return tails(f, numeratorDf, denominatorDf).lower;
}

/**
 * Upper tail of the F distribution: the p-value of an F statistic, from the incomplete beta function of
 * df1 f/(df1 f + df2) (Abramowitz and Stegun 26.6.2). Degrees of freedom need not be whole.
 *
 * @throws StatisticsError `out-of-range` unless both degrees of freedom are above 0, `missing-value`
 * @example fUpperTail(4, 2, 20) // 0.03457
 */
export function fUpperTail(f: number, numeratorDf: number, denominatorDf: number): number {
  return tails(f, numeratorDf, denominatorDf).upper;
}

/**
 * Natural logarithm of the lower tail.
 *
 * @example fLogCumulative(1e-6, 10, 20) // -64.94
 */
export function fLogCumulative(f: number, numeratorDf: number, denominatorDf: number): number {
  return tails(f, numeratorDf, denominatorDf).logLower;
}

/**
 * Natural logarithm of the upper tail.
 *
 * @example fLogUpperTail(1e6, 10, 200) // -1067
 */
export function fLogUpperTail(f: number, numeratorDf: number, denominatorDf: number): number {
  return tails(f, numeratorDf, denominatorDf).logUpper;
}

/**
 * The f with probability p at or below it.
 *
 * @throws StatisticsError `out-of-range` unless 0 < p < 1 and both degrees of freedom are above 0
 * @example fQuantile(0.95, 2, 20) // 3.493
 */
export function fQuantile(p: number, numeratorDf: number, denominatorDf: number): number {
  requireOpenProbability('p', p);
  return quantile('lower', p, numeratorDf, denominatorDf);
}

/**
 * The f with probability q above it; keeps its accuracy for q far below 1e-16.
 *
 * @example fQuantileUpper(0.05, 2, 20) // 3.493
 */
export function fQuantileUpper(q: number, numeratorDf: number, denominatorDf: number): number {
  requireOpenProbability('q', q);
  return quantile('upper', q, numeratorDf, denominatorDf);
}

/** More degrees of freedom change nothing in the first twelve digits, and cost ever more terms. */
const LARGEST_DF = 1e12;

function quantile(tail: 'lower' | 'upper', p: number, numeratorDf: number, denominatorDf: number): number {
  requirePositive('numeratorDf', numeratorDf);
  requirePositive('denominatorDf', denominatorDf);
  const above = Math.min(numeratorDf, LARGEST_DF);
  const below = Math.min(denominatorDf, LARGEST_DF);
  const { x, y } = incompleteBetaInverse(tail, p, above / 2, below / 2);
  return (below / above) * (x / y);
}

function tails(f: number, numeratorDf: number, denominatorDf: number): Tails {
  requirePoint('f', f);
  requirePositive('numeratorDf', numeratorDf);
  requirePositive('denominatorDf', denominatorDf);
  if (f <= 0) return ALL_ABOVE;
  if (f === Number.POSITIVE_INFINITY) return ALL_BELOW;
  const above = Math.min(numeratorDf, LARGEST_DF);
  const below = Math.min(denominatorDf, LARGEST_DF);
  const ratio = (above * f) / below;
  return incompleteBeta(above / 2, below / 2, 1 / (1 + 1 / ratio), 1 / (1 + ratio));
}
