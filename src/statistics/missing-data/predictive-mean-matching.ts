import { ascendingOrder } from '../ascending-order.ts';
import { choleskyInPlace, choleskySolve } from '../linear-algebra/cholesky.ts';
import type { RandomStream } from '../resampling/random.ts';
import { shuffled } from '../resampling/shuffled.ts';

/**
 * Draws values for the missing rows of one variable from those observed: a linear regression of the variable on the
 * predictors is fitted where it is observed, its coefficients are drawn from their posterior, and each missing row
 * takes the value of one of the `donors` observed rows whose fitted value lies nearest its drawn prediction. Ties
 * are broken at random. Values drawn are values that occur, so codes of categories stay codes.
 *
 * Source: Little, J Bus Econ Stat 1988;6:287-296; van Buuren, Flexible Imputation of Missing Data, 2nd ed.,
 * algorithm 3.3 (matching of type 1) with a ridge of 1e-5 for predictors that are nearly collinear.
 */
export function matchPredictedMeans(
  values: Float64Array,
  missing: readonly number[],
  observed: readonly number[],
  predictors: readonly Float64Array[],
  donors: number,
  random: RandomStream,
): void {
  const { estimate, draw } = drawCoefficients(values, observed, predictors, random);
  const pool = shuffled(observed, random);
  const fitted = Float64Array.from(pool, row => predicted(predictors, estimate, row));
  const order = ascendingOrder(fitted);
  const sorted = Float64Array.from(order, place => fitted[place] ?? 0);
  const count = Math.min(donors, order.length);
  for (const row of missing) {
    const start = nearestWindow(sorted, predicted(predictors, draw, row), count);
    const chosen = order[start + random.below(count)] ?? 0;
    values[row] = values[pool[chosen] ?? 0] as number;
  }
}

function drawCoefficients(
  values: Float64Array,
  observed: readonly number[],
  predictors: readonly Float64Array[],
  random: RandomStream,
): { estimate: Float64Array; draw: Float64Array } {
  const k = predictors.length;
  const { products: factor, sums: estimate } = normalEquations(values, observed, predictors);
  for (let j = 0; j < k * k; j += k + 1) factor[j] = (factor[j] as number) * (1 + 1e-5) + 1e-12;
  choleskyInPlace(factor, k, 0);
  choleskySolve(factor, k, estimate);
  let square = 0;
  for (const row of observed) square += ((values[row] as number) - predicted(predictors, estimate, row)) ** 2;
  const degrees = Math.max(1, observed.length - k);
  let chiSquare = 0;
  for (let i = 0; i < degrees; i++) chiSquare += random.normal() ** 2;
  const sigma = Math.sqrt(square / chiSquare);
  // With X'X = L L', the solution of L' d = z has covariance (X'X)^-1.
  const deviation = Array.from({ length: k }, () => random.normal());
  for (let a = k - 1; a >= 0; a--) {
    let value = deviation[a] ?? 0;
    for (let b = a + 1; b < k; b++) value -= (factor[b * k + a] as number) * (deviation[b] ?? 0);
    deviation[a] = value / (factor[a * k + a] as number);
  }
  return { estimate, draw: estimate.map((value, j) => value + sigma * (deviation[j] ?? 0)) };
}

/** Lower triangle of X'X by row, and X'y, over the observed rows. */
function normalEquations(
  values: Float64Array,
  observed: readonly number[],
  predictors: readonly Float64Array[],
): { products: Float64Array; sums: Float64Array } {
  const k = predictors.length;
  const products = new Float64Array(k * k);
  const sums = new Float64Array(k);
  const x = new Float64Array(k);
  for (const row of observed) {
    const y = values[row] as number;
    for (let a = 0; a < k; a++) {
      const value = (predictors[a] as Float64Array)[row] as number;
      x[a] = value;
      sums[a] = (sums[a] as number) + value * y;
      const start = a * k;
      for (let b = 0; b <= a; b++) {
        products[start + b] = (products[start + b] as number) + value * (x[b] as number);
      }
    }
  }
  return { products, sums };
}

function predicted(predictors: readonly Float64Array[], coefficients: Float64Array, row: number): number {
  let sum = 0;
  for (let j = 0; j < predictors.length; j++) {
    sum += ((predictors[j] as Float64Array)[row] as number) * (coefficients[j] as number);
  }
  return sum;
}

/** Where the `count` sorted values nearest the target begin. */
function nearestWindow(sorted: Float64Array, target: number, count: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((sorted[middle] as number) < target) low = middle + 1;
    else high = middle;
  }
  let start = low;
  let end = low;
  while (end - start < count) {
    const below = start > 0 ? target - (sorted[start - 1] as number) : Number.POSITIVE_INFINITY;
    const above = end < sorted.length ? (sorted[end] as number) - target : Number.POSITIVE_INFINITY;
    if (below < above) start -= 1;
    else end += 1;
  }
  return start;
}
