import { choleskyInPlace, choleskyInverse, choleskySolve } from '../../linear-algebra/cholesky.ts';
import { leastSquares } from '../least-squares.ts';
import { emptyRow, rowLikelihood } from './censored-likelihood.ts';
import type { CensoredTimes } from './censored-times.ts';
import type { ErrorDistribution } from './error-distribution.ts';

/** The maximum of a censored likelihood: coefficients, then the log scale unless it is fixed. */
export interface CensoredFit {
  readonly parameters: Float64Array;
  readonly scale: number;
  readonly logLikelihood: number;
  /** The observed information, row by row. */
  readonly information: Float64Array;
  /** Its inverse; undefined where it is not positive definite. */
  readonly covariance: Float64Array | undefined;
  /** One row's derivative by each parameter, times its weight: as columns. */
  readonly scores: readonly Float64Array[];
  readonly iterations: number;
  readonly converged: boolean;
}

interface Evaluation {
  readonly logLikelihood: number;
  readonly gradient: Float64Array;
  readonly information: Float64Array;
}

const MAXIMUM_ITERATIONS = 200;

/**
 * Newton's method on coefficients and log scale with analytic derivatives. Where the information is not positive
 * definite a multiple of its diagonal is added; a step that loses likelihood is halved. Stops when the next step is
 * shorter than 1e-9 standard errors, and takes it. Columns should be of about unit size (see the caller).
 */
export function fitCensored(
  times: CensoredTimes,
  columns: readonly Float64Array[],
  weight: Float64Array,
  error: ErrorDistribution,
  fixedScale: number | undefined,
): CensoredFit {
  let parameters = startingValues(times, columns, fixedScale);
  let now = evaluate(times, columns, weight, error, parameters, fixedScale);
  let iterations = 0;
  let converged = false;
  while (iterations < MAXIMUM_ITERATIONS && !converged && now.information.every(Number.isFinite)) {
    iterations += 1;
    const { step, decrement } = newtonStep(now);
    converged = decrement < 1e-9;
    let fraction = 1;
    let improved = false;
    for (let halving = 0; halving < 50 && !improved; halving++) {
      const trial = parameters.map((value, j) => value + fraction * (step[j] as number));
      const next = evaluate(times, columns, weight, error, trial, fixedScale);
      if (next.logLikelihood >= now.logLikelihood - 1e-11 * (Math.abs(now.logLikelihood) + 1)) {
        parameters = trial;
        now = next;
        improved = true;
      }
      fraction /= 2;
    }
    if (!improved) break;
  }
  const size = parameters.length;
  return {
    parameters,
    scale: fixedScale ?? Math.exp(parameters[size - 1] as number),
    logLikelihood: now.logLikelihood,
    information: now.information,
    covariance: inverse(now.information, size),
    scores: rowScores(times, columns, weight, error, parameters, fixedScale),
    iterations,
    converged,
  };
}

function inverse(information: Float64Array, size: number): Float64Array | undefined {
  const factor = information.slice();
  return choleskyInPlace(factor, size, 0) < 0 ? choleskyInverse(factor, size) : undefined;
}

/** Least squares of the log of exact times, of interval midpoints and of censored times as they stand. */
function startingValues(
  times: CensoredTimes,
  columns: readonly Float64Array[],
  fixedScale: number | undefined,
): Float64Array {
  const middle = times.logLower.map((low, i) => {
    const kind = times.kinds[i];
    const high = times.logUpper[i] as number;
    return kind === 'left' ? high - Math.LN2 : kind === 'interval' ? (low + high) / 2 : low;
  });
  const { coefficients, residuals } = leastSquares(columns, middle);
  if (fixedScale !== undefined) return coefficients;
  let square = 0;
  for (const residual of residuals) square += residual * residual;
  const spread = Math.sqrt(square / Math.max(1, residuals.length - columns.length));
  return Float64Array.from([...coefficients, Math.log(Math.max(spread, 0.05))]);
}

function newtonStep(now: Evaluation): { step: Float64Array; decrement: number } {
  const { gradient, information } = now;
  const size = gradient.length;
  let ridge = 0;
  for (let attempt = 0; attempt < 30; attempt++) {
    const factor = information.slice();
    for (let j = 0; j < factor.length; j += size + 1) {
      factor[j] = (factor[j] as number) + ridge * (Math.abs(factor[j] as number) + 1);
    }
    if (choleskyInPlace(factor, size, 0) < 0) {
      const step = gradient.slice();
      choleskySolve(factor, size, step);
      const square = step.reduce((sum, value, j) => sum + value * (gradient[j] as number), 0);
      // With a ridge the decrement is not in standard errors: do not stop on it.
      return { step, decrement: ridge > 0 ? 1 : Math.sqrt(Math.max(0, square)) };
    }
    ridge = ridge === 0 ? 1e-4 : ridge * 4;
  }
  return { step: gradient, decrement: 1 };
}

function linearPredictor(
  columns: readonly Float64Array[],
  parameters: Float64Array,
  rows: number,
): Float64Array {
  const linear = new Float64Array(rows);
  for (const [j, column] of columns.entries()) {
    const coefficient = parameters[j] as number;
    for (let i = 0; i < rows; i++) linear[i] = (linear[i] as number) + coefficient * (column[i] as number);
  }
  return linear;
}

function evaluate(
  times: CensoredTimes,
  columns: readonly Float64Array[],
  weight: Float64Array,
  error: ErrorDistribution,
  parameters: Float64Array,
  fixedScale: number | undefined,
): Evaluation {
  const rows = weight.length;
  const terms = columns.length;
  const size = parameters.length;
  const scale = fixedScale ?? Math.exp(parameters[terms] as number);
  const linear = linearPredictor(columns, parameters, rows);
  const gradient = new Float64Array(size);
  const curvature = new Float64Array(size * size);
  const row = emptyRow();
  const design = new Float64Array(terms);
  let logLikelihood = 0;
  for (let i = 0; i < rows; i++) {
    rowLikelihood(times, i, linear[i] as number, scale, error, row);
    const w = weight[i] as number;
    logLikelihood += w * row.value;
    for (let a = 0; a < terms; a++) design[a] = (columns[a] as Float64Array)[i] as number;
    for (let a = 0; a < terms; a++) {
      const x = design[a] as number;
      gradient[a] = (gradient[a] as number) + w * row.linear * x;
      for (let b = 0; b <= a; b++) {
        const place = a * size + b;
        curvature[place] = (curvature[place] as number) - w * row.linearLinear * x * (design[b] as number);
      }
      if (fixedScale === undefined) {
        const place = terms * size + a;
        curvature[place] = (curvature[place] as number) - w * row.linearLogScale * x;
      }
    }
    if (fixedScale === undefined) {
      const corner = size * size - 1;
      gradient[terms] = (gradient[terms] as number) + w * row.logScale;
      curvature[corner] = (curvature[corner] as number) - w * row.logScaleLogScale;
    }
  }
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < a; b++) curvature[b * size + a] = curvature[a * size + b] as number;
  }
  return {
    logLikelihood: Number.isFinite(logLikelihood) ? logLikelihood : Number.NEGATIVE_INFINITY,
    gradient,
    information: curvature,
  };
}

function rowScores(
  times: CensoredTimes,
  columns: readonly Float64Array[],
  weight: Float64Array,
  error: ErrorDistribution,
  parameters: Float64Array,
  fixedScale: number | undefined,
): Float64Array[] {
  const rows = weight.length;
  const scale = fixedScale ?? Math.exp(parameters[columns.length] as number);
  const linear = linearPredictor(columns, parameters, rows);
  const scores = Array.from({ length: parameters.length }, () => new Float64Array(rows));
  const row = emptyRow();
  for (let i = 0; i < rows; i++) {
    rowLikelihood(times, i, linear[i] as number, scale, error, row);
    const w = weight[i] as number;
    for (const [j, column] of columns.entries()) {
      (scores[j] as Float64Array)[i] = w * row.linear * (column[i] as number);
    }
    if (fixedScale === undefined) (scores[columns.length] as Float64Array)[i] = w * row.logScale;
  }
  return scores;
}
