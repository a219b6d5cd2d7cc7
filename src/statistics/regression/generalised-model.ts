import { chiSquareUpperTail } from '../distributions/chi-square.ts';
import { inverseCrossProduct } from '../linear-algebra/qr.ts';
import { clusterLabels, type RobustOption, robustCovariance } from './robust-option.ts';
import type { Family, GeneralisedFit } from './generalised-linear-fit.ts';
import { fitGeneralised } from './generalised-linear-fit.ts';
import { type ModelWarning, unestimatedTerms, waldTerms, type WaldTerm } from './ratio-terms.ts';

/** A term whose likelihood estimate is infinite, and which way. */
export interface SeparatedTerm {
  readonly name: string;
  readonly direction: 'up' | 'down';
}

export interface GeneralisedData {
  readonly outcome: Float64Array;
  readonly names: readonly string[];
  readonly columns: readonly Float64Array[];
  readonly weight: Float64Array;
  readonly offset: Float64Array;
  readonly cluster: ArrayLike<string | number> | undefined;
}

export interface GeneralisedModel {
  readonly converged: boolean;
  readonly terms: readonly WaldTerm[];
  /** Of the coefficients in the order of the terms: robust if asked for, else from the model. */
  readonly covariance: readonly (readonly number[])[] | undefined;
  /** From the model, whether or not robust errors were asked for. */
  readonly naiveCovariance: readonly (readonly number[])[] | undefined;
  readonly logLikelihood: number;
  /** Of the model with intercept and offset alone. */
  readonly nullLogLikelihood: number;
  readonly deviance: number;
  readonly nullDeviance: number;
  readonly residualDegreesOfFreedom: number;
  /** Of all covariates; absent without any, and for a penalised fit, whose likelihoods do not compare. */
  readonly likelihoodRatioTest?: {
    readonly statistic: number;
    readonly degreesOfFreedom: number;
    readonly pValue: number;
  };
  /** The infinite terms of a separated sample, with their direction. */
  readonly separation?: readonly SeparatedTerm[];
  readonly warnings: readonly ModelWarning[];
  readonly fitted: readonly number[];
  readonly iterations: number;
  readonly n: number;
  readonly clusters?: number;
}

/** What one family adds to the common fit. */
export interface FamilyModel {
  readonly family: Family;
  /** Terms of the log-likelihood that do not depend on the coefficients. */
  readonly constant: number;
  /** Log-likelihood of the model that fits each row exactly, without the constant. */
  readonly saturated: number;
  /** Where the fit starts: the intercept that gives the observed total. */
  readonly interceptStart: number;
  readonly separationAdvice: string;
}

/** Fits, tests and reports a model of one family; the null model has the intercept and the offset alone. */
export function generalisedModel(
  data: GeneralisedData,
  model: FamilyModel,
  robust: RobustOption,
  level: number,
  intercept: boolean,
  fit?: GeneralisedFit,
): GeneralisedModel {
  const { outcome, names, columns, weight, offset } = data;
  const n = outcome.length;
  const clusters = clusterLabels(data.cluster, n);
  const start = new Float64Array(columns.length);
  if (intercept) start[0] = model.interceptStart;
  const found = fit ?? fitGeneralised(columns, outcome, weight, offset, model.family, start);
  const one = [new Float64Array(n).fill(1)];
  const nullKernel = intercept
    ? fitGeneralised(one, outcome, weight, offset, model.family, start.slice(0, 1)).kernel
    : kernelAt(offset, outcome, weight, model.family);
  const slopes = intercept ? columns.length - 1 : columns.length;
  const common = {
    logLikelihood: found.kernel + model.constant,
    nullLogLikelihood: nullKernel + model.constant,
    deviance: Math.max(0, 2 * (model.saturated - found.kernel)),
    nullDeviance: Math.max(0, 2 * (model.saturated - nullKernel)),
    residualDegreesOfFreedom: n - columns.length,
    fitted: Array.from(found.linear, model.family.mean),
    iterations: found.iterations,
    n,
    ...(clusters === undefined ? {} : { clusters: clusters.labels.length }),
  };
  if (!found.converged) {
    const separation = found.recession === undefined ? [] : separatedTerms(names, columns, found.recession);
    const blamed = separation.map(term => term.name);
    return {
      ...common,
      converged: false,
      terms: unestimatedTerms(names, blamed),
      covariance: undefined,
      naiveCovariance: undefined,
      ...(blamed.length === 0 ? {} : { separation }),
      warnings: [
        blamed.length === 0
          ? {
              code: 'not-converged',
              covariates: [],
              message: `no convergence in ${found.iterations} iterations`,
            }
          : {
              code: 'separation',
              covariates: blamed,
              message: `the likelihood climbs for ever along ${blamed.join(', ')}; ${model.separationAdvice}`,
            },
      ],
    };
  }
  const naive = inverseCrossProduct(found.qr);
  const robustMatrix = robustCovariance(
    { columns, weights: found.weights, scores: found.scores, qr: found.qr },
    robust,
    clusters,
    'hc0',
  );
  const statistic = Math.max(0, 2 * (found.kernel - nullKernel));
  return {
    ...common,
    converged: true,
    terms: waldTerms(names, found.coefficients, naive, robustMatrix, level),
    covariance: robustMatrix ?? naive,
    naiveCovariance: naive,
    ...(slopes === 0 || fit !== undefined
      ? {}
      : {
          likelihoodRatioTest: {
            statistic,
            degreesOfFreedom: slopes,
            pValue: chiSquareUpperTail(statistic, slopes),
          },
        }),
    warnings: [],
  };
}

function kernelAt(linear: Float64Array, outcome: Float64Array, weight: Float64Array, family: Family): number {
  let sum = 0;
  for (const [i, value] of linear.entries()) {
    sum += (weight[i] as number) * family.kernel(outcome[i] as number, value);
  }
  return sum;
}

function separatedTerms(
  names: readonly string[],
  columns: readonly Float64Array[],
  direction: Float64Array,
): SeparatedTerm[] {
  const reach = columns.map((column, j) => {
    const largest = column.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    return Math.abs(direction[j] as number) * largest;
  });
  const longest = Math.max(...reach);
  return names.flatMap((name, j): SeparatedTerm[] =>
    (reach[j] as number) > 1e-3 * longest
      ? [{ name, direction: (direction[j] as number) > 0 ? 'up' : 'down' }]
      : [],
  );
}
