import { tailOutside } from '../../confidence-level.ts';
import { type CodedLabels, refuseUnread, requireArgument } from '../../columns.ts';
import { chiSquareUpperTail } from '../../distributions/chi-square.ts';
import { StatisticsError } from '../../errors.ts';
import { matrixRows } from '../../linear-algebra/cholesky.ts';
import { matrixProduct, transposed } from '../../linear-algebra/matrix-product.ts';
import { requireOption } from '../../option.ts';
import { modelColumns, positiveWeights } from '../model-columns.ts';
import {
  exponential,
  type ModelWarning,
  unestimatedTerms,
  waldTerms,
  type WaldTerm,
} from '../ratio-terms.ts';
import { clusterLabels } from '../robust-option.ts';
import { censoredTimes, type IntervalTimes, type RightCensoredTimes } from './censored-times.ts';
import { ERROR_DISTRIBUTIONS, type FailureDistribution } from './error-distribution.ts';
import { type CensoredFit, fitCensored } from './fit.ts';
import { fitTrouble } from './fit-trouble.ts';

type Covariates = Readonly<Record<string, ArrayLike<number>>>;

export type AcceleratedFailureTimes = (RightCensoredTimes | IntervalTimes) & {
  /** How many like rows a row stands for. */
  readonly weight?: ArrayLike<number> | undefined;
  readonly cluster?: ArrayLike<string | number> | undefined;
};

export type AcceleratedFailureData = AcceleratedFailureTimes & { readonly covariates: Covariates };

export interface AcceleratedFailureOptions {
  readonly distribution: FailureDistribution;
  readonly level?: number | undefined;
}

/** `lower` and `upper` are the limits of the time ratio, `coefficientLower` and `coefficientUpper` of its logarithm. */
export interface AcceleratedFailureTerm extends WaldTerm {
  /** By how much times are multiplied for one unit more of the covariate; for the intercept, e to it. */
  readonly timeRatio: number | undefined;
}

export interface AcceleratedFailureModel {
  readonly distribution: FailureDistribution;
  readonly converged: boolean;
  readonly terms: readonly AcceleratedFailureTerm[];
  /** Scale of the error of log time (1 for exponential); the Weibull shape is its inverse. */
  readonly scale: number | undefined;
  readonly logScaleStandardError?: number;
  readonly logLikelihood: number;
  /** Of the model without covariates. */
  readonly nullLogLikelihood: number;
  readonly likelihoodRatioTest?: {
    readonly statistic: number;
    readonly degreesOfFreedom: number;
    readonly pValue: number;
  };
  /** Of the coefficients in the order of the terms, then of the log scale (not for exponential); robust with clusters. */
  readonly covariance: readonly (readonly number[])[] | undefined;
  /** The inverse information, whether or not there are clusters. */
  readonly naiveCovariance: readonly (readonly number[])[] | undefined;
  readonly level: number;
  readonly n: number;
  readonly events: number;
  readonly clusters?: number;
  readonly iterations: number;
  readonly warnings: readonly ModelWarning[];
}

/**
 * Parametric regression of a time: log T = intercept + sum of coefficient times covariate + scale times error, the
 * error's law giving exponential (scale 1), Weibull, log-normal or log-logistic times. Rows may be exact, right-,
 * left- or interval-censored. Maximum likelihood by Newton's method; Wald limits on normal quantiles; with `cluster`
 * the sandwich of scores summed by cluster, without small-sample factor. The log-likelihood is that of T.
 *
 * Where the likelihood has no maximum (a group without any observed end) `converged` is false, the warning names the
 * covariates, their terms' estimate is `'infinite'`, and no numbers are given.
 *
 * Called with the covariates inside the data, or as a second argument of their own.
 *
 * Source: Kalbfleisch & Prentice, The Statistical Analysis of Failure Time Data, 2nd ed., chapter 3; Lin & Wei,
 * J Am Stat Assoc 1989;84:1074 (robust errors).
 *
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`, `out-of-range`, `no-events` (all
 * right-censored), `constant-covariate`, `collinear-covariates`, `one-group` (a single cluster), `unknown-option`
 *
 * @example acceleratedFailureModel({ time: [2, 4], event: [1, 0], covariates: {} }, { distribution:
 *   'exponential' }).terms[0].timeRatio // 6
 */
export function acceleratedFailureModel(
  data: AcceleratedFailureData,
  options: AcceleratedFailureOptions,
): AcceleratedFailureModel;
export function acceleratedFailureModel(
  data: AcceleratedFailureTimes,
  covariates: Covariates,
  options: AcceleratedFailureOptions,
): AcceleratedFailureModel;
export function acceleratedFailureModel(
  data: AcceleratedFailureTimes & { readonly covariates?: Covariates },
  second: Covariates | AcceleratedFailureOptions,
  third?: AcceleratedFailureOptions,
): AcceleratedFailureModel {
  const covariates = third === undefined ? (data.covariates ?? {}) : (second as Covariates);
  return fitModel(data, covariates, third ?? (second as AcceleratedFailureOptions));
}

function fitModel(
  data: AcceleratedFailureTimes,
  covariates: Covariates,
  options: AcceleratedFailureOptions,
): AcceleratedFailureModel {
  requireArgument('options', options);
  const { distribution, level = 0.95 } = options;
  refuseUnread(data, ['weight', 'cluster']);
  tailOutside({ level });
  requireOption('distribution', distribution, Object.keys(ERROR_DISTRIBUTIONS));
  const error = ERROR_DISTRIBUTIONS[distribution];
  const times = censoredTimes(data);
  const n = times.kinds.length;
  const events = times.kinds.reduce((count, kind) => count + (kind === 'right' ? 0 : 1), 0);
  if (events === 0) {
    throw new StatisticsError('no-events', 'every time is right-censored; at least one end is needed');
  }
  const { names, columns } = modelColumns(covariates, n, true);
  const weight = positiveWeights(data.weight, n);
  const clusters = clusterLabels(data.cluster, n);
  const fixedScale = distribution === 'exponential' ? 1 : undefined;
  const { standard, centres, spreads } = standardised(columns);
  const fit = fitCensored(times, standard, weight, error, fixedScale);
  const nullFit =
    columns.length === 1 ? fit : fitCensored(times, standard.slice(0, 1), weight, error, fixedScale);

  const common = {
    distribution,
    logLikelihood: fit.logLikelihood,
    nullLogLikelihood: nullFit.logLikelihood,
    level,
    n,
    events,
    ...(clusters === undefined ? {} : { clusters: clusters.labels.length }),
    iterations: fit.iterations,
  };
  const trouble = fitTrouble(fit, names);
  if (trouble !== undefined || fit.covariance === undefined) {
    return {
      ...common,
      converged: false,
      terms: unestimatedTerms(names, trouble?.covariates ?? []).map(term => ({
        ...term,
        timeRatio: undefined,
      })),
      scale: undefined,
      covariance: undefined,
      naiveCovariance: undefined,
      warnings: trouble === undefined ? [] : [trouble],
    };
  }
  const back = backTransformation(fit.parameters.length, centres, spreads);
  const covariance = matrixRows(fit.covariance, fit.parameters.length);
  const half = matrixProduct(covariance, transposed(back));
  const naive = matrixProduct(back, half);
  const robust = clusters === undefined ? undefined : clustered(fit, half, clusters);
  const coefficients = matrixProduct(back, transposed([fit.parameters])).map(([value = 0]) => value);
  const terms = waldTerms(names, coefficients, naive, robust, level);
  const statistic = Math.max(0, 2 * (fit.logLikelihood - nullFit.logLikelihood));
  const slopes = columns.length - 1;
  return {
    ...common,
    converged: true,
    terms: terms.map(term => ({ ...term, timeRatio: exponential(term.coefficient) })),
    scale: fit.scale,
    ...(fixedScale === undefined
      ? { logScaleStandardError: Math.sqrt((robust ?? naive)[columns.length]?.[columns.length] ?? 0) }
      : {}),
    ...(slopes === 0
      ? {}
      : {
          likelihoodRatioTest: {
            statistic,
            degreesOfFreedom: slopes,
            pValue: chiSquareUpperTail(statistic, slopes),
          },
        }),
    covariance: robust ?? naive,
    naiveCovariance: naive,
    warnings: [],
  };
}

/** Covariates centred and brought to unit spread, so that the information matrix is well conditioned. */
function standardised(columns: readonly Float64Array[]): {
  standard: Float64Array[];
  centres: number[];
  spreads: number[];
} {
  const centres: number[] = [];
  const spreads: number[] = [];
  const standard = columns.map((column, j) => {
    if (j === 0) {
      centres.push(0);
      spreads.push(1);
      return column;
    }
    const centre = column.reduce((sum, value) => sum + value, 0) / column.length;
    const square = column.reduce((sum, value) => sum + (value - centre) ** 2, 0);
    const spread = Math.sqrt(square / column.length);
    centres.push(centre);
    spreads.push(spread);
    return column.map(value => (value - centre) / spread);
  });
  return { standard, centres, spreads };
}

/** The linear map from parameters of the standardised columns to those of the covariates as given. */
function backTransformation(
  size: number,
  centres: readonly number[],
  spreads: readonly number[],
): number[][] {
  return Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_column, j) => {
      const spread = spreads[j] ?? 1;
      if (i === j) return 1 / spread;
      return i === 0 && j < spreads.length ? -(centres[j] as number) / spread : 0;
    }),
  );
}

/** @param half the covariance times the back transformation, transposed */
function clustered(fit: CensoredFit, half: number[][], clusters: CodedLabels): number[][] {
  if (clusters.labels.length < 2) {
    throw new StatisticsError('one-group', 'cluster has one label; clustered errors need at least two');
  }
  const sums = clusters.labels.map(() => new Float64Array(fit.scores.length));
  for (const [j, scores] of fit.scores.entries()) {
    for (const [i, score] of scores.entries()) {
      const sum = sums[clusters.codes[i] as number] as Float64Array;
      sum[j] = (sum[j] as number) + score;
    }
  }
  const influence = matrixProduct(sums, half);
  return matrixProduct(transposed(influence), influence);
}
