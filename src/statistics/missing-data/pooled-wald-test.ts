import { requireSize } from '../columns.ts';
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { fUpperTail } from '../distributions/f.ts';
import { StatisticsError } from '../errors.ts';

export interface CoefficientsToPool {
  /** For each completed data set, the coefficients under test. */
  readonly coefficients: readonly (readonly number[])[];
  /** For each completed data set, their covariance. */
  readonly covariances: readonly (readonly (readonly number[])[])[];
}

export interface PooledWaldTest {
  readonly statistic: number;
  readonly degreesOfFreedom: readonly [number, number | undefined];
  readonly pValue: number;
  /** Average relative increase of variance due to missing values. */
  readonly relativeIncrease: number;
}

/**
 * Tests several coefficients at once over m completed data sets (the statistic D1): q' U^-1 q / (k (1 + r)) with q
 * the mean coefficients, U the mean covariance and r = (1 + 1/m) trace(B U^-1) / k, on an F distribution with k and
 * nu degrees of freedom; with t = k (m - 1), nu = 4 + (t - 4) (1 + (1 - 2/t)/r)^2 for t above 4, else
 * t (1 + 1/k) (1 + 1/r)^2 / 2.
 *
 * Source: Li, Raghunathan & Rubin, J Am Stat Assoc 1991;86:1065-1073.
 *
 * @throws StatisticsError `length`, `not-finite`, `out-of-range` (fewer than two data sets), `collinear-covariates`
 * (a mean covariance that is not positive definite)
 * @example pooledWaldTest({ coefficients: [[0.5, 0.9], [0.7, 1.1]], covariances: [[[0.04, 0.01], [0.01, 0.05]],
 *   [[0.05, 0.01], [0.01, 0.04]]] }).degreesOfFreedom // [2, 12.04]
 */
export function pooledWaldTest(data: CoefficientsToPool): PooledWaldTest {
  const m = data.coefficients.length;
  if (m < 2) throw new StatisticsError('out-of-range', `${m} data sets cannot be pooled; two are needed`);
  if (data.covariances.length !== m) {
    throw new StatisticsError('length', `covariances has ${data.covariances.length} values; ${m} are needed`);
  }
  const k = data.coefficients[0]?.length ?? 0;
  if (k === 0) throw new StatisticsError('empty', 'coefficients is empty; at least one is needed');
  const sets = data.coefficients.map((values, i) => column(`coefficients[${i}]`, values, k));
  const centre = sets.reduce((sum, values) => sum.add(values), Matrix.zeros(k, 1)).mul(1 / m);
  const within = Matrix.zeros(k, k);
  const between = Matrix.zeros(k, k);
  for (const [i, covariance] of data.covariances.entries()) {
    if (covariance.length !== k) {
      throw new StatisticsError('length', `covariances[${i}] has ${covariance.length} rows; ${k} are needed`);
    }
    for (const [a, row] of covariance.entries()) {
      const checked = column(`covariances[${i}][${a}]`, row, k);
      for (let b = 0; b < k; b++) within.set(a, b, within.get(a, b) + checked.get(b, 0) / m);
    }
    const gap = Matrix.sub(sets[i] as Matrix, centre);
    between.add(gap.mmul(gap.transpose()).mul(1 / (m - 1)));
  }
  const factors = new CholeskyDecomposition(within);
  if (!factors.isPositiveDefinite()) {
    throw new StatisticsError('collinear-covariates', 'the mean covariance is not positive definite');
  }
  const relativeIncrease = ((1 + 1 / m) * factors.solve(between).trace()) / k;
  const quadratic = centre.transpose().mmul(factors.solve(centre)).get(0, 0);
  const statistic = quadratic / (k * (1 + relativeIncrease));
  const degrees = denominator(k, m, relativeIncrease);
  // Without variance between data sets the F distribution is chi-square over k; its limit serves.
  const pValue = fUpperTail(statistic, k, degrees ?? 1e12);
  return { statistic, degreesOfFreedom: [k, degrees], pValue, relativeIncrease };
}

function denominator(k: number, m: number, r: number): number | undefined {
  if (!(r > 0)) return undefined;
  const t = k * (m - 1);
  if (t > 4) return 4 + (t - 4) * (1 + (1 - 2 / t) / r) ** 2;
  return (t * (1 + 1 / k) * (1 + 1 / r) ** 2) / 2;
}

function column(name: string, values: readonly number[], length: number): Matrix {
  if (values.length !== length) {
    throw new StatisticsError('length', `${name} has ${values.length} values; ${length} are needed`);
  }
  for (const [i, value] of values.entries()) {
    if (!Number.isFinite(value)) {
      throw new StatisticsError('not-finite', `${name}[${i}] is ${value}; a finite number is needed`);
    }
    requireSize(`${name}[${i}]`, value);
  }
  return Matrix.columnVector(values);
}
