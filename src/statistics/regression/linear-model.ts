import { tailOutside } from '../confidence-level.ts';
import { studentTQuantile, twoSidedStudentT } from '../distributions/student-t.ts';
import { fUpperTail } from '../distributions/f.ts';
import { StatisticsError } from '../errors.ts';
import { inverseCrossProduct, leverages } from '../linear-algebra/qr.ts';
import { refinedLeastSquares } from './least-squares.ts';
import { modelColumns, offsetColumn, outcomeColumn, positiveWeights } from './model-columns.ts';
import { clusterLabels, type RobustOption, requireRobustOption, robustCovariance } from './robust-option.ts';

export interface LinearModelData {
  readonly outcome: ArrayLike<number>;
  /** Named columns, one value a row; a factor comes as its indicator columns. */
  readonly covariates: Readonly<Record<string, ArrayLike<number>>>;
  readonly cluster?: ArrayLike<string | number> | undefined;
  /** A known part of the outcome, subtracted before fitting. */
  readonly offset?: ArrayLike<number> | undefined;
  /** Precision weights: the error variance of a row is sigma squared over its weight. */
  readonly weight?: ArrayLike<number> | undefined;
}

export interface LinearModelOptions {
  readonly robust?: RobustOption | undefined;
  readonly level?: number | undefined;
  /** False leaves the intercept out; r squared is then about zero, not about the mean. */
  readonly intercept?: boolean | undefined;
  /** Degrees of freedom of t with clusters: `residual` (default), n - k, or `clusters`, G - 1. */
  readonly degreesOfFreedom?: 'residual' | 'clusters' | undefined;
}

export interface LinearTerm {
  readonly name: string;
  readonly coefficient: number;
  /** From the model. */
  readonly standardError: number;
  /** Where robust or clustered errors were asked for; limits, t and p-value then use it. */
  readonly robustStandardError?: number;
  readonly lower: number;
  readonly upper: number;
  /** Undefined where the fit is exact and the error therefore 0. */
  readonly t: number | undefined;
  readonly pValue: number | undefined;
}

export interface LinearModel {
  readonly terms: readonly LinearTerm[];
  /** Of the coefficients in the order of the terms: robust if asked for, else from the model. */
  readonly covariance: readonly (readonly number[])[];
  /** From the model, whether or not robust errors were asked for. */
  readonly naiveCovariance: readonly (readonly number[])[];
  readonly logLikelihood: number | undefined;
  /** Weighted residual sum of squares. */
  readonly deviance: number;
  readonly residualDegreesOfFreedom: number;
  /** Degrees of freedom that limits and p-values of the terms use. */
  readonly degreesOfFreedom: number;
  /** Residual standard deviation. */
  readonly sigma: number;
  readonly rSquared: number | undefined;
  readonly adjustedRSquared: number | undefined;
  /** Overall F test of all covariates; absent without covariates and for an exact fit. */
  readonly fTest?: {
    readonly statistic: number;
    readonly degreesOfFreedom: readonly [number, number];
    readonly pValue: number;
  };
  readonly fitted: readonly number[];
  readonly residuals: readonly number[];
  readonly leverage: readonly number[];
  readonly n: number;
  readonly clusters?: number;
}

/**
 * Least squares for a numeric outcome: minimises the (weighted) sum of squared residuals, by Householder QR with
 * refinement in double-double, and gives t limits and p-values on n - k degrees of freedom.
 *
 * With `cluster` the limits use clustered errors, hc1 unless another is named: G/(G - 1) (n - 1)/(n - k) times the
 * sandwich (see `sandwichCovariance` for each correction). sigma is sqrt(deviance/(n - k)); the log-likelihood is
 * the normal one at the maximum-likelihood variance deviance/n. Where the fit is exact to rounding (residuals below
 * 1e-15 of the outcome) sigma is 0, and tests and log-likelihood are undefined.
 *
 * Source: Seber and Lee, Linear Regression Analysis, 2nd edition (2003), chapters 3 and 11.
 *
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`, `constant-covariate`,
 * `collinear-covariates`, `out-of-range` (level, weights, no residual degree of freedom), `one-group` (a single
 * cluster), `unknown-option`
 *
 * @example linearModel({ outcome: [1, 3, 5, 8], covariates: { week: [0, 1, 2, 3] } }).terms[1].coefficient // 2.3
 */
export function linearModel(data: LinearModelData, options: LinearModelOptions = {}): LinearModel {
  const { robust = 'none', level = 0.95, intercept = true, degreesOfFreedom = 'residual' } = options;
  requireRobustOption(robust);
  tailOutside({ level });
  const outcome = outcomeColumn(data.outcome);
  const n = outcome.length;
  const { names, columns } = modelColumns(data.covariates, n, intercept);
  const weights = positiveWeights(data.weight, n);
  const offset = offsetColumn(data.offset, n);
  const clusters = clusterLabels(data.cluster, n);
  const k = columns.length;
  const residualDegreesOfFreedom = n - k;
  if (residualDegreesOfFreedom < 1) {
    throw new StatisticsError('out-of-range', `${n} rows for ${k} terms leave no degree of freedom`);
  }

  const roots = data.weight === undefined ? undefined : weights.map(Math.sqrt);
  const response = outcome.map((value, i) => value - (offset[i] as number));
  const rooted = (column: Float64Array): Float64Array =>
    roots === undefined ? column : column.map((value, i) => value * (roots[i] as number));
  const fit = refinedLeastSquares(columns.map(rooted), rooted(response));
  const residuals =
    roots === undefined ? fit.residuals : fit.residuals.map((r, i) => r / (roots[i] as number));

  // Residuals a rounding error long mean an exact fit: tests and a log-likelihood made from them would be noise.
  const raw = sumOfSquares(fit.residuals);
  const deviance = raw > 1e-30 * sumOfSquares(rooted(response)) ? raw : 0;
  const sigma = Math.sqrt(deviance / residualDegreesOfFreedom);
  const naive = inverseCrossProduct(fit.qr).map(row => row.map(value => value * sigma * sigma));
  const scores = residuals.map((r, i) => r * (weights[i] as number));
  const robustMatrix = robustCovariance({ columns, weights, scores, qr: fit.qr }, robust, clusters, 'hc1');
  const testDegrees =
    clusters !== undefined && degreesOfFreedom === 'clusters'
      ? clusters.labels.length - 1
      : residualDegreesOfFreedom;

  const critical = studentTQuantile((1 + level) / 2, testDegrees);
  const terms = names.map((name, j): LinearTerm => {
    const coefficient = (fit.coefficients[j] as number) + 0;
    const standardError = Math.sqrt(naive[j]?.[j] ?? 0);
    const robustStandardError = robustMatrix === undefined ? undefined : Math.sqrt(robustMatrix[j]?.[j] ?? 0);
    const error = robustStandardError ?? standardError;
    const t = error > 0 ? coefficient / error : undefined;
    return {
      name,
      coefficient,
      standardError,
      ...(robustStandardError === undefined ? {} : { robustStandardError }),
      lower: coefficient - critical * error,
      upper: coefficient + critical * error,
      t,
      pValue: t === undefined ? undefined : twoSidedStudentT(t, testDegrees),
    };
  });

  const variation = explained(response, weights, deviance, intercept);
  const slopes = intercept ? k - 1 : k;
  const fStatistic =
    slopes > 0 && deviance > 0
      ? (variation.total - deviance) / slopes / (deviance / residualDegreesOfFreedom)
      : undefined;
  return {
    terms,
    covariance: robustMatrix ?? naive,
    naiveCovariance: naive,
    logLikelihood: normalLogLikelihood(deviance, weights),
    deviance,
    residualDegreesOfFreedom,
    degreesOfFreedom: testDegrees,
    sigma,
    rSquared: variation.rSquared,
    adjustedRSquared:
      variation.rSquared === undefined
        ? undefined
        : 1 - ((1 - variation.rSquared) * (n - (intercept ? 1 : 0))) / residualDegreesOfFreedom,
    ...(fStatistic === undefined
      ? {}
      : {
          fTest: {
            statistic: fStatistic,
            degreesOfFreedom: [slopes, residualDegreesOfFreedom] as const,
            pValue: fUpperTail(Math.max(fStatistic, 0), slopes, residualDegreesOfFreedom),
          },
        }),
    fitted: Array.from(outcome, (value, i) => value - (residuals[i] as number)),
    residuals: Array.from(residuals),
    leverage: Array.from(leverages(fit.qr)),
    n,
    ...(clusters === undefined ? {} : { clusters: clusters.labels.length }),
  };
}

/** Total sum of squares, about the weighted mean where there is an intercept, else about zero. */
function explained(
  response: Float64Array,
  weights: Float64Array,
  deviance: number,
  intercept: boolean,
): { total: number; rSquared: number | undefined } {
  let weight = 0;
  let sum = 0;
  for (const [i, value] of response.entries()) {
    weight += weights[i] as number;
    sum += (weights[i] as number) * value;
  }
  const centre = intercept ? sum / weight : 0;
  let total = 0;
  for (const [i, value] of response.entries()) total += (weights[i] as number) * (value - centre) ** 2;
  return { total, rSquared: total > 0 ? 1 - deviance / total : undefined };
}

function normalLogLikelihood(deviance: number, weights: Float64Array): number | undefined {
  if (deviance === 0) return undefined;
  const n = weights.length;
  const logWeights = weights.reduce((sum, weight) => sum + Math.log(weight), 0);
  return 0.5 * (logWeights - n * (Math.log(2 * Math.PI) + 1 - Math.log(n) + Math.log(deviance)));
}

function sumOfSquares(values: Float64Array): number {
  let sum = 0;
  let carry = 0;
  for (const value of values) {
    const term = value * value - carry;
    const next = sum + term;
    carry = next - sum - term;
    sum = next;
  }
  return sum;
}
