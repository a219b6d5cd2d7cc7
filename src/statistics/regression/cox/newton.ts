import { StatisticsError } from '../../errors.ts';
import { choleskyInPlace, choleskySolve, inverseQuadraticForm } from '../../linear-algebra/cholesky.ts';

/** A function to be maximised. `evaluate` leaves its gradient, information and curvature in place. */
export interface Objective {
  readonly names: readonly string[];
  /** Largest minus smallest value of each covariate, in the units of the coefficients. */
  readonly range: Float64Array;
  /** Mean case weight of an event: what one event counts in the objective. */
  readonly unit: number;
  readonly score: Float64Array;
  /** Information of the likelihood: for the score test, and to find collinear covariates. */
  readonly information: Float64Array;
  /** Negative Hessian of the objective, for the steps; the information itself if there is no penalty. */
  readonly curvature: Float64Array;
  evaluate(beta: Float64Array): number;
}

export interface Maximum {
  readonly beta: Float64Array;
  readonly initial: number;
  readonly final: number;
  /** U' I^-1 U at beta = 0. */
  readonly scoreStatistic: number;
  readonly iterations: number;
  readonly converged: boolean;
  /** Covariates along which the objective climbs without end. */
  readonly monotone: readonly number[];
}

const MAXIMUM_ITERATIONS = 100;

/**
 * Newton-Raphson from 0 with step halving. It stops when the Newton decrement U' I^-1 U, the squared
 * distance to the maximum in standard errors, is below 1e-24, or no longer shrinks.
 *
 * Where the likelihood is monotone the decrement shrinks by a constant factor while the step stays
 * about one unit of the linear predictor for ever: a decrement under 1e-12 with a step that still moves
 * some row's linear predictor by 0.1 names the covariate. Source: Bryson and Johnson (1981),
 * Technometrics 23:381; Heinze and Schemper (2001), Biometrics 57:114.
 *
 * @throws StatisticsError `collinear-covariates` or `constant-covariate`, naming the covariate
 */
export function maximise(objective: Objective): Maximum {
  const { score, curvature, range, unit } = objective;
  const p = score.length;
  const beta = new Float64Array(p);
  const factor = new Float64Array(p * p);
  const step = new Float64Array(p);
  let value = objective.evaluate(beta);
  const initial = value;
  requireFullRank(objective);
  const scoreStatistic = inverseQuadraticForm(objective.information, score) ?? 0;
  let before = Infinity;
  let converged = false;
  let moving: number[] = [];
  let iterations = 0;
  for (; iterations < MAXIMUM_ITERATIONS; iterations++) {
    factor.set(curvature);
    if (choleskyInPlace(factor, p, 1e-13) >= 0) break;
    step.set(score);
    choleskySolve(factor, p, step);
    let decrement = 0;
    for (let j = 0; j < p; j++) decrement += (score[j] as number) * (step[j] as number);
    decrement /= unit;
    if (!Number.isFinite(decrement)) break;
    moving = decrement < 1e-4 ? movingCovariates(step, range) : [];
    const stalled = decrement < 1e-14 && decrement > before / 4;
    if (decrement < 1e-24 || stalled || (moving.length > 0 && (decrement < 1e-12 || decrement > before))) {
      for (let j = 0; j < p; j++) beta[j] = (beta[j] as number) + (step[j] as number);
      converged = moving.length === 0;
      break;
    }
    before = decrement;
    const next = halvedStep(objective, beta, step, value);
    if (next === undefined) break;
    value = next;
  }
  return {
    beta,
    initial,
    final: value,
    scoreStatistic,
    iterations: iterations + (converged ? 1 : 0),
    converged,
    monotone: converged ? [] : moving,
  };
}

/** Moves `beta` by the largest of step, step/2, step/4, ... that does not lower the objective. */
function halvedStep(
  objective: Objective,
  beta: Float64Array,
  step: Float64Array,
  value: number,
): number | undefined {
  const p = beta.length;
  const slack = 1e-12 * (Math.abs(value) + objective.unit);
  for (let j = 0; j < p; j++) beta[j] = (beta[j] as number) + (step[j] as number);
  for (let halvings = 0; halvings < 40; halvings++) {
    const next = objective.evaluate(beta);
    if (next >= value - slack && objective.curvature.every(Number.isFinite)) return next;
    for (let j = 0; j < p; j++) {
      step[j] = (step[j] as number) / 2;
      beta[j] = (beta[j] as number) - (step[j] as number);
    }
  }
  return undefined;
}

function movingCovariates(step: Float64Array, range: Float64Array): number[] {
  const moving: number[] = [];
  for (let j = 0; j < step.length; j++) {
    if (Math.abs(step[j] as number) * (range[j] as number) > 0.1) moving.push(j);
  }
  return moving;
}

function requireFullRank({ information, names, unit }: Objective): void {
  const p = names.length;
  const correlation = new Float64Array(p * p);
  for (let i = 0; i < p; i++) {
    const own = information[i * p + i] as number;
    if (!(own > 1e-12 * unit)) {
      throw new StatisticsError(
        'constant-covariate',
        `covariates.${names[i]} does not vary within any risk set that has an event; it has no coefficient`,
      );
    }
    for (let j = 0; j < p; j++) {
      correlation[i * p + j] =
        (information[i * p + j] as number) / Math.sqrt(own * (information[j * p + j] as number));
    }
  }
  const original = correlation.slice();
  const column = choleskyInPlace(correlation, p, 1e-10);
  if (column < 0) return;
  const coefficients = new Float64Array(column);
  for (let j = 0; j < column; j++) coefficients[j] = original[column * p + j] as number;
  const leading = new Float64Array(column * column);
  for (let i = 0; i < column; i++) {
    for (let j = 0; j < column; j++) leading[i * column + j] = correlation[i * p + j] as number;
  }
  choleskySolve(leading, column, coefficients);
  const others = names.filter((_, j) => j < column && Math.abs(coefficients[j] as number) > 1e-6);
  throw new StatisticsError(
    'collinear-covariates',
    `covariates.${names[column]} is a linear combination of ${others.join(', ')}; leave one of them out`,
  );
}
