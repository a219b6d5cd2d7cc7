import { requireSize } from '../columns.ts';
import { fUpperTail } from '../distributions/f.ts';
import { StatisticsError } from '../errors.ts';
import { choleskyInPlace, forwardSolve } from '../linear-algebra/cholesky.ts';

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
  const sets = data.coefficients.map((values, i) => finite(`coefficients[${i}]`, values, k));
  const centre = mean(sets);
  const within = Float64Array.from(mean(data.covariances.map((rows, i) => flattened(i, rows, k))));
  if (choleskyInPlace(within, k, 0) >= 0) {
    throw new StatisticsError('collinear-covariates', 'the mean covariance is not positive definite');
  }
  const distance = (values: readonly number[]): number => {
    const x = Float64Array.from(values);
    forwardSolve(within, k, x);
    return x.reduce((sum, value) => sum + value * value, 0);
  };
  // The trace of B U^-1 is the sum of the distances of the sets from their mean, measured by U.
  const gaps = sets.map(values => distance(values.map((value, j) => value - (centre[j] as number))));
  const trace = gaps.reduce((sum, gap) => sum + gap, 0) / (m - 1);
  const relativeIncrease = ((1 + 1 / m) * trace) / k;
  const quadratic = distance(centre);
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

/** The element-wise mean of lists of equal length. */
function mean(lists: readonly (readonly number[])[]): number[] {
  const [first = []] = lists;
  return first.map((_, j) => lists.reduce((sum, list) => sum + (list[j] as number), 0) / lists.length);
}

function flattened(i: number, rows: readonly (readonly number[])[], k: number): number[] {
  if (rows.length !== k) {
    throw new StatisticsError('length', `covariances[${i}] has ${rows.length} rows; ${k} are needed`);
  }
  return rows.flatMap((row, a) => finite(`covariances[${i}][${a}]`, row, k));
}

function finite(name: string, values: readonly number[], length: number): readonly number[] {
  if (values.length !== length) {
    throw new StatisticsError('length', `${name} has ${values.length} values; ${length} are needed`);
  }
  for (const [i, value] of values.entries()) {
    if (!Number.isFinite(value)) {
      throw new StatisticsError('not-finite', `${name}[${i}] is ${value}; a finite number is needed`);
    }
    requireSize(`${name}[${i}]`, value);
  }
  return values;
}
