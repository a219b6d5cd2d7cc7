import { HALF_LOG_TWO_PI } from './gamma-function.ts';
import { logOneMinusExp, requireOpenProbability, requirePoint } from './tails.ts';

/** Where the upper tail passes from the series about 0 to the continued fraction. */
const SERIES_LIMIT = 2;

/**
 * Lower tail of the standard normal distribution: the probability of z or less.
 *
 * @example normalCumulative(1.96) // 0.975
 */
export function normalCumulative(z: number): number {
  return normalUpperTail(-z);
}

/**
 * Upper tail of the standard normal distribution: the probability of more than z.
 *
 * Within two standard deviations the odd power series (Abramowitz and Stegun 26.2.11), beyond it Laplace's
 * continued fraction (26.2.14); relative error below 1e-13 down to the smallest doubles.
 *
 * @throws StatisticsError `missing-value` if z is not a number
 * @example normalUpperTail(1.96) // 0.025
 */
export function normalUpperTail(z: number): number {
  requirePoint('z', z);
  if (z === Number.POSITIVE_INFINITY) return 0;
  if (z > SERIES_LIMIT) return density(z) / laplaceFraction(z);
  if (z >= -SERIES_LIMIT) return 0.5 - centralArea(z);
  return 1 - normalUpperTail(-z);
}

/**
 * Natural logarithm of the upper tail; finite for every finite z, also where the tail itself is below 1e-308.
 *
 * @example normalLogUpperTail(40) // -804.6
 */
export function normalLogUpperTail(z: number): number {
  requirePoint('z', z);
  if (z === Number.POSITIVE_INFINITY) return Number.NEGATIVE_INFINITY;
  if (z > SERIES_LIMIT) return -0.5 * z * z - HALF_LOG_TWO_PI - Math.log(laplaceFraction(z));
  if (z >= -SERIES_LIMIT) return Math.log1p(-(0.5 + centralArea(z)));
  return logOneMinusExp(normalLogUpperTail(-z));
}

/**
 * Natural logarithm of the lower tail.
 *
 * @example normalLogCumulative(-40) // -804.6
 */
export function normalLogCumulative(z: number): number {
  return normalLogUpperTail(-z);
}

/**
 * Density of the standard normal distribution.
 *
 * @example normalDensity(0) // 0.3989
 */
export function normalDensity(z: number): number {
  requirePoint('z', z);
  return Number.isFinite(z) ? density(z) : 0;
}

/**
 * Two-sided p-value of a standard normal statistic: the probability of |Z| at least |z|.
 *
 * @example twoSidedNormal(1.96) // 0.05
 */
export function twoSidedNormal(z: number): number {
  requirePoint('z', z);
  return Math.min(1, 2 * normalUpperTail(Math.abs(z)));
}

/**
 * The z with probability p at or below it.
 *
 * @param p lower tail, between 0 and 1; for an upper tail close to 0 use `normalQuantileUpper`, which does not
 *   lose it in 1 - q
 * @throws StatisticsError `out-of-range` unless 0 < p < 1
 * @example normalQuantile(0.975) // 1.96
 */
export function normalQuantile(p: number): number {
  requireOpenProbability('p', p);
  return p <= 0.5 ? 0 - quantileOfSmallTail(p) : quantileOfSmallTail(1 - p);
}

/**
 * The z with probability q above it.
 *
 * @throws StatisticsError `out-of-range` unless 0 < q < 1
 * @example normalQuantileUpper(0.025) // 1.96
 */
export function normalQuantileUpper(q: number): number {
  requireOpenProbability('q', q);
  return q <= 0.5 ? quantileOfSmallTail(q) : 0 - quantileOfSmallTail(1 - q);
}

/** exp(-z^2/2)/sqrt(2 pi), with z split so that the rounding of its square does not enter the exponent. */
function density(z: number): number {
  // Below the smallest double; for a huge z the two exponentials would be 0 and infinite.
  if (Math.abs(z) > 40) return 0;
  const high = Math.fround(z);
  const rest = (z - high) * (z + high);
  return Math.exp(-0.5 * high * high) * Math.exp(-0.5 * rest - HALF_LOG_TWO_PI);
}

/** The area between 0 and z: the density times z + z^3/3 + z^5/15 + ... */
function centralArea(z: number): number {
  let term = z;
  let sum = z;
  for (let k = 3; k < 200; k += 2) {
    term *= (z * z) / k;
    const next = sum + term;
    if (next === sum) break;
    sum = next;
  }
  return density(z) * sum;
}

/** z + 1/(z + 2/(z + 3/(z + ...))) from the innermost term outwards; the number of terms needed falls as 1/z^2. */
function laplaceFraction(z: number): number {
  let fraction = z;
  for (let k = Math.ceil(12 + 350 / (z * z)); k >= 1; k--) fraction = z + k / fraction;
  return fraction;
}

/** The z >= 0 whose upper tail is q <= 1/2: a rational start (Abramowitz and Stegun 26.2.23), then Newton. */
function quantileOfSmallTail(q: number): number {
  const t = Math.sqrt(-2 * Math.log(q));
  let z =
    t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  if (q > 0.1) {
    const area = 0.5 - q;
    for (let step = 0; step < 4; step++) z += (area - centralArea(z)) / density(z);
    return z;
  }
  const log = Math.log(q);
  for (let step = 0; step < 4; step++) {
    // The slope of the log tail is minus the ratio of density to tail, which is Laplace's fraction itself.
    const slope = z > SERIES_LIMIT ? laplaceFraction(z) : density(z) / normalUpperTail(z);
    z += (normalLogUpperTail(z) - log) / slope;
  }
  return z;
}
