import {
  householderQr,
  leverages,
  multiplyByQTranspose,
  type QrFactors,
  solveUpper,
} from '../linear-algebra/qr.ts';
import { type Family, type GeneralisedFit, predictor, rooted } from './generalised-linear-fit.ts';

const MAXIMUM_ITERATIONS = 200;

interface FirthState extends GeneralisedFit {
  readonly hat: Float64Array;
  readonly penalised: number;
}

/**
 * Maximises the log-likelihood plus half the log determinant of the information X'WX (Jeffreys' prior). The
 * modified score of a row is w (y - p) + h (1/2 - p) with h its hat value, so estimates stay finite under
 * separation. That is the score of the row with h/2 successes and h/2 failures added, and each step is Newton's for
 * these augmented rows, no log odds moving by more than 5, with halving; it stops when a step is shorter than 1e-10
 * standard errors.
 *
 * Source: Firth, Biometrika 1993;80:27-38; Heinze & Schemper, Stat Med 2002;21:2409-2419.
 */
export function firthFit(
  columns: readonly Float64Array[],
  outcome: Float64Array,
  weight: Float64Array,
  offset: Float64Array,
  family: Family,
): GeneralisedFit {
  const evaluate = (coefficients: Float64Array): FirthState => {
    const linear = predictor(columns, coefficients, offset);
    const weights = linear.map((value, i) => (weight[i] as number) * family.variance(value));
    const qr = householderQr(rooted(columns, weights));
    const hat = leverages(qr);
    const scores = linear.map((value, i) => {
      const plain = (weight[i] as number) * family.residual(outcome[i] as number, value);
      return plain + (hat[i] as number) * (0.5 - family.mean(value));
    });
    let kernel = 0;
    for (const [i, value] of linear.entries()) {
      kernel += (weight[i] as number) * family.kernel(outcome[i] as number, value);
    }
    const penalised = kernel + logDeterminant(qr);
    return {
      coefficients,
      linear,
      weights,
      hat,
      scores,
      qr,
      kernel,
      penalised,
      iterations: 0,
      converged: false,
    };
  };

  let now = evaluate(new Float64Array(columns.length));
  for (let iterations = 1; iterations <= MAXIMUM_ITERATIONS; iterations++) {
    const augmented = now.weights.map(
      (value, i) => value * (1 + (now.hat[i] as number) / (weight[i] as number)),
    );
    const qr = householderQr(rooted(columns, augmented));
    const working = now.scores.map((score, i) => {
      const root = Math.sqrt(augmented[i] as number);
      return root > 0 ? score / root : 0;
    });
    multiplyByQTranspose(qr, working);
    let square = 0;
    for (let j = 0; j < columns.length; j++) square += (working[j] as number) ** 2;
    const step = solveUpper(qr, working);
    if (Math.sqrt(square) < 1e-10) return { ...now, iterations, converged: true };
    const move = predictor(columns, step, new Float64Array(outcome.length));
    const longest = move.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    let fraction = Math.min(1, 5 / longest);
    let next = now;
    for (let halving = 0; halving < 40; halving++) {
      const trial = evaluate(now.coefficients.map((value, j) => value + fraction * (step[j] as number)));
      if (trial.penalised >= now.penalised - 1e-10 * (Math.abs(now.penalised) + 1)) {
        next = trial;
        break;
      }
      fraction /= 2;
    }
    now = next;
  }
  return { ...now, iterations: MAXIMUM_ITERATIONS, converged: false };
}

/** Half the log determinant of X'WX, which is the log determinant of R. */
function logDeterminant(qr: QrFactors): number {
  let sum = 0;
  for (const value of qr.diagonal) sum += Math.log(Math.abs(value));
  return sum;
}
