import { choleskyInPlace, choleskySolve } from '../linear-algebra/cholesky.ts';
import type { InnermostIntervals } from './turnbull-intervals.ts';

export interface Masses {
  readonly mass: Float64Array;
  readonly logLikelihood: number;
  readonly iterations: number;
  readonly converged: boolean;
}

interface State {
  mass: Float64Array;
  /** Probability of each observation. */
  readonly probability: Float64Array;
  /** Derivative of the log-likelihood with respect to each mass. */
  readonly gradient: Float64Array;
  logLikelihood: number;
}

const startingSteps = 40;
const largestQuadratic = 600;

/**
 * The masses on the innermost intervals that maximise the likelihood.
 *
 * Self-consistency (EM) steps find the neighbourhood; from there Newton steps: the quadratic approximation of
 * the log-likelihood minus n times the sum of masses is maximised over masses of 0 or more on the present
 * support plus the intervals between its members where the gradient is highest and above n, with step
 * halving. Converged when, to `tolerance`, no gradient exceeds n and every mass above 0 has gradient n, which
 * is sufficient and necessary for the maximum. With more than 600 intervals in the support, EM steps with
 * squared extrapolation are taken instead.
 *
 * Source: Turnbull, J R Stat Soc B 1976;38:290-295; Gentleman and Geyer, Biometrika 1994;81:618-623
 * (conditions); Wang, J R Stat Soc B 2007;69:185-198 (Newton); Varadhan and Roland, Scand J Stat
 * 2008;35:335-353 (extrapolation).
 */
export function maximumLikelihoodMasses(
  data: InnermostIntervals,
  maximumIterations: number,
  tolerance: number,
): Masses {
  const size = data.lower.length;
  const total = data.weight.reduce((sum, w) => sum + w, 0);
  const state: State = {
    mass: new Float64Array(size).fill(1 / size),
    probability: new Float64Array(data.weight.length),
    gradient: new Float64Array(size),
    logLikelihood: 0,
  };
  evaluate(data, state);
  let iterations = 0;
  for (
    ;
    iterations < Math.min(startingSteps, maximumIterations) && !atMaximum(state, total, tolerance);
    iterations++
  ) {
    selfConsistencyStep(data, state, total);
  }
  let negligible = 1e-3 / size;
  while (iterations < maximumIterations && !atMaximum(state, total, tolerance)) {
    iterations++;
    const support = candidates(state, total, negligible);
    negligible = Math.min(negligible, 1e-9 / size);
    if (support.length > largestQuadratic || !newtonStep(data, state, total, support)) {
      for (let i = 0; i < 5; i++) extrapolatedStep(data, state, total);
    }
  }
  return {
    mass: state.mass,
    logLikelihood: state.logLikelihood,
    iterations,
    converged: atMaximum(state, total, tolerance),
  };
}

/** Observation probabilities, log-likelihood and gradient for the present masses, by cumulative sums. */
function evaluate(data: InnermostIntervals, state: State): void {
  const size = state.mass.length;
  const upTo = new Float64Array(size + 1);
  for (let j = 0; j < size; j++) upTo[j + 1] = (upTo[j] as number) + (state.mass[j] as number);
  const change = new Float64Array(size + 1);
  let logLikelihood = 0;
  for (let i = 0; i < data.weight.length; i++) {
    const from = data.first[i] as number;
    const to = (data.last[i] as number) + 1;
    const probability = massBetween(state.mass, upTo, from, to);
    state.probability[i] = probability;
    if (!(probability > 0)) {
      state.logLikelihood = Number.NEGATIVE_INFINITY;
      return;
    }
    const weight = data.weight[i] as number;
    logLikelihood += weight * Math.log(probability);
    change[from] = (change[from] as number) + weight / probability;
    change[to] = (change[to] as number) - weight / probability;
  }
  let slope = 0;
  for (let j = 0; j < size; j++) {
    slope += change[j] as number;
    state.gradient[j] = slope;
  }
  state.logLikelihood = logLikelihood;
}

/**
 * The mass of intervals from up to but not including to: few are added up, as a small difference of sums near
 * 1 is inexact.
 */
function massBetween(mass: Float64Array, upTo: Float64Array, from: number, to: number): number {
  if (to - from > 8) return (upTo[to] as number) - (upTo[from] as number);
  let sum = 0;
  for (let j = from; j < to; j++) sum += mass[j] as number;
  return sum;
}

function atMaximum({ mass, gradient }: State, total: number, tolerance: number): boolean {
  for (let j = 0; j < mass.length; j++) {
    const excess = (gradient[j] as number) / total - 1;
    if (excess > tolerance || Math.abs(excess) * (mass[j] as number) > tolerance) return false;
  }
  return true;
}

function selfConsistencyStep(data: InnermostIntervals, state: State, total: number): void {
  state.mass = state.mass.map((p, j) => (p * (state.gradient[j] as number)) / total);
  evaluate(data, state);
}

/** Two self-consistency steps and an extrapolation along them, kept if the likelihood is no lower. */
function extrapolatedStep(data: InnermostIntervals, state: State, total: number): void {
  const start = state.mass;
  selfConsistencyStep(data, state, total);
  const first = state.mass;
  selfConsistencyStep(data, state, total);
  const second = state.mass;
  const reached = state.logLikelihood;
  let step = 0;
  let bend = 0;
  for (let j = 0; j < start.length; j++) {
    step += ((first[j] as number) - (start[j] as number)) ** 2;
    bend += ((second[j] as number) - 2 * (first[j] as number) + (start[j] as number)) ** 2;
  }
  if (bend === 0) return;
  const length = Math.max(1, Math.sqrt(step / bend));
  state.mass = start.map((p, j) => {
    const one = (first[j] as number) - p;
    const two = (second[j] as number) - (first[j] as number) - one;
    return Math.max(0, p + 2 * length * one + length * length * two);
  });
  normalise(state);
  evaluate(data, state);
  if (state.logLikelihood >= reached) return;
  state.mass = second;
  evaluate(data, state);
}

/**
 * The present support, and in each gap between its members the interval of highest gradient if that is above
 * n.
 */
function candidates({ mass, gradient }: State, total: number, negligible: number): number[] {
  const chosen: number[] = [];
  let best = -1;
  const takeBest = (): void => {
    if (best >= 0) chosen.push(best);
    best = -1;
  };
  for (let j = 0; j < mass.length; j++) {
    if ((mass[j] as number) > negligible) {
      takeBest();
      chosen.push(j);
    } else if (
      (gradient[j] as number) > total &&
      (best < 0 || (gradient[j] as number) > (gradient[best] as number))
    ) {
      best = j;
    }
  }
  takeBest();
  return chosen;
}

/** One Newton step over the intervals given; false, and nothing changed, if the likelihood would not rise. */
function newtonStep(
  data: InnermostIntervals,
  state: State,
  total: number,
  support: readonly number[],
): boolean {
  const start = state.mass;
  const before = state.logLikelihood - total * start.reduce((sum, p) => sum + p, 0);
  const target = new Float64Array(start.length);
  for (const [at, p] of nonNegativeMaximum(data, state, total, support)) target[at] = p;
  for (let share = 1; share > 1e-6; share /= 2) {
    state.mass = start.map((p, j) => p + share * ((target[j] as number) - p));
    evaluate(data, state);
    if (state.logLikelihood - total * state.mass.reduce((sum, p) => sum + p, 0) > before) {
      normalise(state);
      evaluate(data, state);
      return true;
    }
  }
  state.mass = start;
  evaluate(data, state);
  return false;
}

/**
 * Maximises the quadratic approximation over masses of 0 or more: solved without the bound, negative ones
 * taken out, and again.
 */
function nonNegativeMaximum(
  data: InnermostIntervals,
  state: State,
  total: number,
  support: readonly number[],
): [number, number][] {
  let kept = [...support];
  const curvature = curvatureOf(data, state, kept);
  let rows = kept.map((_, a) => a);
  const keep = (stays: (a: number) => boolean): void => {
    kept = kept.filter((_, a) => stays(a));
    rows = rows.filter((_, a) => stays(a));
  };
  while (kept.length > 0) {
    const size = kept.length;
    const matrix = new Float64Array(size * size);
    for (let a = 0; a < size; a++) {
      const row = curvature[rows[a] as number] as Float64Array;
      for (let b = 0; b <= a; b++) matrix[a * size + b] = row[rows[b] as number] as number;
    }
    const dependent = choleskyInPlace(matrix, size, 1e-13);
    if (dependent >= 0) {
      keep(a => a !== dependent);
      continue;
    }
    const solution = Float64Array.from(kept, j => 2 * (state.gradient[j] as number) - total);
    choleskySolve(matrix, size, solution);
    if (solution.every(p => p > 0)) return kept.map((j, a) => [j, solution[a] as number]);
    keep(a => (solution[a] as number) > 0);
  }
  return [];
}

/**
 * Minus the second derivatives between the intervals given: lower triangle, sum over observations holding
 * both of weight / probability squared.
 */
function curvatureOf(data: InnermostIntervals, state: State, support: readonly number[]): Float64Array[] {
  const size = support.length;
  const firstAtOrAfter = new Int32Array(state.mass.length + 1);
  for (let j = 0, a = 0; j <= state.mass.length; j++) {
    firstAtOrAfter[j] = a;
    if (support[a] === j) a++;
  }
  // An observation that holds members a to b adds the same to every pair among them: corners are marked, then
  // summed up both ways.
  const corner = Array.from({ length: size + 1 }, () => new Float64Array(size + 1));
  for (let i = 0; i < data.weight.length; i++) {
    const from = firstAtOrAfter[data.first[i] as number] as number;
    const to = firstAtOrAfter[(data.last[i] as number) + 1] as number;
    if (from >= to) continue;
    const share = (data.weight[i] as number) / (state.probability[i] as number) ** 2;
    const top = corner[from];
    const bottom = corner[to];
    if (!top || !bottom) continue;
    top[from] = (top[from] as number) + share;
    top[to] = (top[to] as number) - share;
    bottom[from] = (bottom[from] as number) - share;
    bottom[to] = (bottom[to] as number) + share;
  }
  for (let a = 0; a < size; a++) {
    const row = corner[a] as Float64Array;
    const above = corner[a - 1];
    let across = 0;
    for (let b = 0; b < size; b++) {
      across += row[b] as number;
      row[b] = across + (above ? (above[b] as number) : 0);
    }
  }
  return corner.slice(0, size);
}

function normalise(state: State): void {
  const sum = state.mass.reduce((total, p) => total + p, 0);
  state.mass = state.mass.map(p => p / sum);
}
