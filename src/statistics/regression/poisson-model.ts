import { tailOutside } from '../confidence-level.ts';
import { logGamma } from '../distributions/gamma-function.ts';
import { StatisticsError } from '../errors.ts';
import type { Family } from './generalised-linear-fit.ts';
import { type GeneralisedModel, generalisedModel } from './generalised-model.ts';
import { modelColumns, offsetColumn, outcomeColumn, positiveWeights } from './model-columns.ts';
import { exponential, type WaldTerm } from './ratio-terms.ts';
import { type RobustOption, requireRobustOption } from './robust-option.ts';

export interface PoissonModelData {
  /** Counts: whole numbers of 0 or more. */
  readonly outcome: ArrayLike<number>;
  readonly covariates: Readonly<Record<string, ArrayLike<number>>>;
  readonly cluster?: ArrayLike<string | number> | undefined;
  /** Logarithm of the time or number at risk, added to the log mean. */
  readonly offset?: ArrayLike<number> | undefined;
  /** How many like rows a row stands for. */
  readonly weight?: ArrayLike<number> | undefined;
}

export interface PoissonModelOptions {
  readonly robust?: RobustOption | undefined;
  readonly level?: number | undefined;
  readonly intercept?: boolean | undefined;
}

/** `lower` and `upper` are the limits of the rate ratio, `coefficientLower` and `coefficientUpper` of its logarithm. */
export interface PoissonTerm extends WaldTerm {
  readonly rateRatio: number | undefined;
}

export interface PoissonModel extends Omit<GeneralisedModel, 'terms'> {
  readonly terms: readonly PoissonTerm[];
  /** Pearson chi-square over its degrees of freedom: well above 1 where counts vary more than Poisson's. */
  readonly dispersion: number | undefined;
}

const LOG: Family = {
  mean: Math.exp,
  variance: Math.exp,
  residual: (outcome, linear) => outcome - Math.exp(linear),
  kernel: (outcome, linear) => outcome * linear - Math.exp(linear),
  freeDirection: outcome => (outcome === 0 ? -1 : 0),
};

/**
 * Poisson regression: the log of the mean count as offset plus intercept plus the sum of coefficient times
 * covariate, by maximum likelihood. Each term carries its rate ratio; limits are Wald's, on normal quantiles. For
 * counts that vary more than Poisson's (`dispersion` above 1), or several rows an infant, use robust or clustered
 * errors; with `cluster` hc0 with factor G/(G - 1) unless another correction is named.
 *
 * Where a covariate picks out rows with no event at all, its estimate is minus infinity: `converged` is false, the
 * term's estimate is `'infinite'`, and no numbers are given.
 *
 * Source: McCullagh & Nelder, Generalized Linear Models, 2nd ed., chapter 6.
 *
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`, `out-of-range`, `not-a-whole-number`,
 * `no-events`, `one-group` (a single cluster), `constant-covariate`, `collinear-covariates`, `unknown-option`
 *
 * @example poissonModel({ outcome: [2, 6], covariates: { late: [0, 1] } }).terms[1].rateRatio // 3
 */
export function poissonModel(data: PoissonModelData, options: PoissonModelOptions = {}): PoissonModel {
  const { robust = 'none', level = 0.95, intercept = true } = options;
  requireRobustOption(robust);
  tailOutside({ level });
  const outcome = counts(data.outcome);
  const n = outcome.length;
  const weight = positiveWeights(data.weight, n);
  const { names, columns } = modelColumns(data.covariates, n, intercept);
  const offset = offsetColumn(data.offset, n);
  let constant = 0;
  let saturated = 0;
  let events = 0;
  let exposure = 0;
  for (const [i, y] of outcome.entries()) {
    events += (weight[i] as number) * y;
    exposure += (weight[i] as number) * Math.exp(offset[i] as number);
    constant -= (weight[i] as number) * logGamma(y + 1);
    if (y > 0) saturated += (weight[i] as number) * (y * Math.log(y) - y);
  }
  const model = generalisedModel(
    { outcome, names, columns, weight, offset, cluster: data.cluster },
    {
      family: LOG,
      constant,
      saturated,
      interceptStart: Math.log(events / exposure),
      separationAdvice: 'join groups without events or drop the term',
    },
    robust,
    level,
    intercept,
  );
  const terms = model.terms.map(term => ({ ...term, rateRatio: exponential(term.coefficient) }));
  return { ...model, terms, dispersion: pearsonDispersion(model, outcome, weight) };
}

function pearsonDispersion(
  model: GeneralisedModel,
  outcome: Float64Array,
  weight: Float64Array,
): number | undefined {
  if (!model.converged || model.residualDegreesOfFreedom < 1) return undefined;
  let sum = 0;
  for (const [i, mean] of model.fitted.entries()) {
    sum += ((weight[i] as number) * ((outcome[i] as number) - mean) ** 2) / mean;
  }
  return sum / model.residualDegreesOfFreedom;
}

function counts(values: ArrayLike<number>): Float64Array {
  const column = outcomeColumn(values);
  for (const [i, value] of column.entries()) {
    if (value < 0) {
      throw new StatisticsError('out-of-range', `outcome[${i}] is ${value}; a count of 0 or more is needed`);
    }
    if (!Number.isInteger(value)) {
      throw new StatisticsError('not-a-whole-number', `outcome[${i}] is ${value}; a whole number is needed`);
    }
  }
  if (column.every(value => value === 0)) {
    throw new StatisticsError('no-events', 'outcome is 0 in every row; at least one event is needed');
  }
  return column;
}
