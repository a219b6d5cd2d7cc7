import { tailOutside } from '../confidence-level.ts';
import { logGamma } from '../distributions/gamma-function.ts';
import { StatisticsError } from '../errors.ts';
import { requireOption } from '../option.ts';
import { firthFit } from './firth-logistic.ts';
import type { Family } from './generalised-linear-fit.ts';
import { type GeneralisedModel, generalisedModel } from './generalised-model.ts';
import { modelColumns, offsetColumn, outcomeColumn, positiveWeights } from './model-columns.ts';
import { exponential, type WaldTerm } from './ratio-terms.ts';
import { type RobustOption, requireRobustOption } from './robust-option.ts';

export interface LogisticModelData {
  /** 0 or 1, false or true; or, with `weight` as the number of trials, the proportion of them that succeeded. */
  readonly outcome: ArrayLike<number | boolean>;
  readonly covariates: Readonly<Record<string, ArrayLike<number>>>;
  readonly cluster?: ArrayLike<string | number> | undefined;
  /** Added to the log odds. */
  readonly offset?: ArrayLike<number> | undefined;
  /** How many like rows a row stands for (trials). */
  readonly weight?: ArrayLike<number> | undefined;
}

export interface LogisticModelOptions {
  readonly robust?: RobustOption | undefined;
  readonly level?: number | undefined;
  readonly intercept?: boolean | undefined;
  /** `firth` penalises the likelihood by half the log determinant of the information: finite under separation. */
  readonly penalty?: 'none' | 'firth' | undefined;
}

/** `lower` and `upper` are the limits of the odds ratio, `coefficientLower` and `coefficientUpper` of its logarithm. */
export interface LogisticTerm extends WaldTerm {
  readonly oddsRatio: number | undefined;
}

export interface LogisticModel extends Omit<GeneralisedModel, 'terms'> {
  readonly terms: readonly LogisticTerm[];
  readonly penalty: 'none' | 'firth';
}

const LOGIT: Family = {
  mean: linear => 1 / (1 + Math.exp(-linear)),
  variance: linear => {
    const small = Math.exp(-Math.abs(linear));
    return small / (1 + small) ** 2;
  },
  // For an outcome of 1 the difference is the other tail, which keeps its digits.
  residual: (outcome, linear) =>
    outcome === 1 ? 1 / (1 + Math.exp(linear)) : outcome - 1 / (1 + Math.exp(-linear)),
  kernel: (outcome, linear) =>
    outcome * linear - (linear > 0 ? linear + Math.log1p(Math.exp(-linear)) : Math.log1p(Math.exp(linear))),
  freeDirection: outcome => (outcome === 1 ? 1 : outcome === 0 ? -1 : 0),
};

/**
 * Logistic regression: the log odds of the outcome as intercept plus the sum of coefficient times covariate, by
 * maximum likelihood. Each term carries its odds ratio; limits are Wald's, on normal quantiles.
 *
 * Under separation (a covariate, or a combination, that tells 0 from 1 without error, so that the likelihood has
 * no maximum) `converged` is false, the terms to blame have the estimate `'infinite'`, `separation` says which way,
 * and no numbers are given; `penalty: 'firth'` gives finite ones. With `cluster` the limits use clustered errors, hc0 with factor G/(G - 1) unless
 * another correction is named. The deviance is twice the log-likelihood ratio to the saturated model.
 *
 * Sources: Hosmer & Lemeshow, Applied Logistic Regression; Firth, Biometrika 1993;80:27-38; Heinze & Schemper,
 * Stat Med 2002;21:2409-2419.
 *
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`, `out-of-range`, `no-events` (every
 * outcome 0), `one-group` (every outcome 1, or a single cluster), `constant-covariate`, `collinear-covariates`,
 * `unknown-option`
 *
 * @example logisticModel({ outcome: [0, 1, 0, 1], covariates: { crease: [0, 0, 1, 1] } }).terms[1].oddsRatio // 1
 */
export function logisticModel(data: LogisticModelData, options: LogisticModelOptions = {}): LogisticModel {
  const { robust = 'none', level = 0.95, intercept = true, penalty = 'none' } = options;
  requireRobustOption(robust);
  tailOutside({ level });
  requireOption('penalty', penalty, ['none', 'firth']);
  const outcome = proportions(data.outcome);
  const n = outcome.length;
  const weight = positiveWeights(data.weight, n);
  const { names, columns } = modelColumns(data.covariates, n, intercept);
  const offset = offsetColumn(data.offset, n);
  const fit = penalty === 'firth' ? firthFit(columns, outcome, weight, offset, LOGIT) : undefined;
  let constant = 0;
  let saturated = 0;
  for (const [i, y] of outcome.entries()) {
    if (y === 0 || y === 1) continue;
    const trials = weight[i] as number;
    constant += logGamma(trials + 1) - logGamma(y * trials + 1) - logGamma((1 - y) * trials + 1);
    saturated += trials * (y * Math.log(y) + (1 - y) * Math.log1p(-y));
  }
  const model = generalisedModel(
    { outcome, names, columns, weight, offset, cluster: data.cluster },
    {
      family: LOGIT,
      constant,
      saturated,
      interceptStart: 0,
      separationAdvice: "fit with penalty 'firth' or drop the term",
    },
    robust,
    level,
    intercept,
    fit,
  );
  const terms = model.terms.map(term => ({ ...term, oddsRatio: exponential(term.coefficient) }));
  return { ...model, terms, penalty };
}

function proportions(values: ArrayLike<number | boolean>): Float64Array {
  const column = outcomeColumn(
    Array.from(values, value => (typeof value === 'boolean' ? Number(value) : value)),
  );
  for (const [i, value] of column.entries()) {
    if (value < 0 || value > 1) {
      throw new StatisticsError('out-of-range', `outcome[${i}] is ${value}; 0 to 1 is needed`);
    }
  }
  if (column.every(value => value === 0)) {
    throw new StatisticsError('no-events', 'outcome is 0 in every row; both outcomes are needed');
  }
  if (column.every(value => value === 1)) {
    throw new StatisticsError('one-group', 'outcome is 1 in every row; both outcomes are needed');
  }
  return column;
}
