import { multiplyByQTranspose, type QrFactors, householderQr, solveUpper } from '../linear-algebra/qr.ts';

/** The parts of a one-parameter exponential family with its canonical link that the fit needs, row by row. */
export interface Family {
  /** Mean at a linear predictor. */
  readonly mean: (linear: number) => number;
  /** Variance of one observation at a linear predictor; also the derivative of the mean. */
  readonly variance: (linear: number) => number;
  /** Outcome less mean, without cancellation. */
  readonly residual: (outcome: number, linear: number) => number;
  /** Log-likelihood of one observation, less what does not depend on the predictor. */
  readonly kernel: (outcome: number, linear: number) => number;
  /**
   * Whether raising (+1) or lowering (-1) the linear predictor without end never loses likelihood at this outcome;
   * 0 if either does. Tells separation from slow convergence.
   */
  readonly freeDirection: (outcome: number) => -1 | 0 | 1;
}

export interface GeneralisedFit {
  readonly coefficients: Float64Array;
  readonly linear: Float64Array;
  /** Working weights (weight times variance) and scores (weight times residual) at the estimate. */
  readonly weights: Float64Array;
  readonly scores: Float64Array;
  readonly qr: QrFactors;
  readonly kernel: number;
  readonly iterations: number;
  readonly converged: boolean;
  /** Direction in which the likelihood rises for ever, one value a term; present in a separated sample. */
  readonly recession?: Float64Array;
}

const MAXIMUM_ITERATIONS = 100;

/**
 * Maximum likelihood by iteratively reweighted least squares (Newton's method, the link being canonical) with step
 * halving. Stops when the next step is shorter than 1e-9 standard errors, takes that step, and re-evaluates: the
 * remaining error is of its square.
 *
 * From the tenth iteration on, a step along which no observation loses likelihood proves that the likelihood has no
 * maximum (complete or quasi-complete separation) and ends the fit.
 *
 * Sources: McCullagh & Nelder, Generalized Linear Models, 2nd ed., section 2.5; Albert & Anderson, Biometrika
 * 1984;71:1-10 (separation).
 */
export function fitGeneralised(
  columns: readonly Float64Array[],
  outcome: Float64Array,
  weight: Float64Array,
  offset: Float64Array,
  family: Family,
  start: Float64Array,
): GeneralisedFit {
  let coefficients = Float64Array.from(start);
  let linear = predictor(columns, coefficients, offset);
  let kernel = totalKernel(outcome, linear, weight, family);
  let iterations = 0;
  let converged = false;
  let recession: Float64Array | undefined;
  while (iterations < MAXIMUM_ITERATIONS && !converged) {
    iterations += 1;
    const { step, decrement } = newtonStep(columns, outcome, linear, weight, family);
    converged = decrement < 1e-9;
    if (iterations >= 10 && isRecession(columns, step, outcome, family)) {
      recession = step;
      converged = false;
      break;
    }
    let fraction = 1;
    for (let halving = 0; halving < 40; halving++) {
      const trial = coefficients.map((value, j) => value + fraction * (step[j] as number));
      const trialLinear = predictor(columns, trial, offset);
      const trialKernel = totalKernel(outcome, trialLinear, weight, family);
      if (trialKernel >= kernel - 1e-10 * (Math.abs(kernel) + 1)) {
        coefficients = trial;
        linear = trialLinear;
        kernel = trialKernel;
        break;
      }
      fraction /= 2;
    }
  }
  const weights = linear.map((value, i) => (weight[i] as number) * family.variance(value));
  const scores = linear.map(
    (value, i) => (weight[i] as number) * family.residual(outcome[i] as number, value),
  );
  const qr = householderQr(rooted(columns, weights));
  return {
    coefficients,
    linear,
    weights,
    scores,
    qr,
    kernel,
    iterations,
    converged,
    ...(recession === undefined ? {} : { recession }),
  };
}

/** X b + offset. */
export function predictor(
  columns: readonly Float64Array[],
  coefficients: ArrayLike<number>,
  offset: Float64Array,
): Float64Array {
  const linear = Float64Array.from(offset);
  for (const [j, column] of columns.entries()) {
    const coefficient = coefficients[j] as number;
    for (let i = 0; i < linear.length; i++) {
      linear[i] = (linear[i] as number) + coefficient * (column[i] as number);
    }
  }
  return linear;
}

/** Each row of the design multiplied by the square root of its weight. */
export function rooted(columns: readonly Float64Array[], weights: Float64Array): Float64Array[] {
  const roots = new Float64Array(weights.length);
  for (let i = 0; i < roots.length; i++) roots[i] = Math.sqrt(weights[i] as number);
  return columns.map(column => {
    const product = new Float64Array(roots.length);
    for (let i = 0; i < roots.length; i++) product[i] = (column[i] as number) * (roots[i] as number);
    return product;
  });
}

function newtonStep(
  columns: readonly Float64Array[],
  outcome: Float64Array,
  linear: Float64Array,
  weight: Float64Array,
  family: Family,
): { step: Float64Array; decrement: number } {
  const weights = linear.map((value, i) => (weight[i] as number) * family.variance(value));
  const qr = householderQr(rooted(columns, weights));
  const working = linear.map((value, i) => {
    const root = Math.sqrt(weights[i] as number);
    return root > 0 ? ((weight[i] as number) * family.residual(outcome[i] as number, value)) / root : 0;
  });
  multiplyByQTranspose(qr, working);
  let square = 0;
  for (let j = 0; j < columns.length; j++) square += (working[j] as number) ** 2;
  return { step: solveUpper(qr, working), decrement: Math.sqrt(square) };
}

function totalKernel(
  outcome: Float64Array,
  linear: Float64Array,
  weight: Float64Array,
  family: Family,
): number {
  let sum = 0;
  let carry = 0;
  for (let i = 0; i < outcome.length; i++) {
    const term = (weight[i] as number) * family.kernel(outcome[i] as number, linear[i] as number) - carry;
    const next = sum + term;
    carry = next - sum - term;
    sum = next;
  }
  return Number.isFinite(sum) ? sum : Number.NEGATIVE_INFINITY;
}

function isRecession(
  columns: readonly Float64Array[],
  step: Float64Array,
  outcome: Float64Array,
  family: Family,
): boolean {
  const move = predictor(columns, step, new Float64Array(outcome.length));
  const largest = move.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  // A step that shrinks is convergence; along a recession each step moves some predictor by about 1.
  if (!(largest > 0.5)) return false;
  const slack = 1e-6 * largest;
  for (let i = 0; i < move.length; i++) {
    const free = family.freeDirection(outcome[i] as number);
    const value = move[i] as number;
    if (free === 0 ? Math.abs(value) > slack : free * value < -slack) return false;
  }
  return true;
}
