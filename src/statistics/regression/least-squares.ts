import { addMultiple, wide, wideDot } from '../linear-algebra/double-double.ts';
import {
  householderQr,
  multiplyByQ,
  multiplyByQTranspose,
  type QrFactors,
  solveUpper,
  solveUpperTranspose,
} from '../linear-algebra/qr.ts';

/** A least-squares solution with its residuals and the factors of the design. */
export interface LeastSquares {
  readonly coefficients: Float64Array;
  readonly residuals: Float64Array;
  readonly qr: QrFactors;
}

/** Solves min |y - Xb| by Householder QR; X is given as columns and must have full column rank. */
export function leastSquares(columns: readonly Float64Array[], outcome: Float64Array): LeastSquares {
  const qr = householderQr(columns);
  const rotated = Float64Array.from(outcome);
  multiplyByQTranspose(qr, rotated);
  const coefficients = solveUpper(qr, rotated);
  rotated.fill(0, 0, columns.length);
  multiplyByQ(qr, rotated);
  return { coefficients, residuals: rotated, qr };
}

/**
 * As `leastSquares`, then refined until the correction is below rounding: residuals of the augmented system
 * r + Xb = y, X'r = 0 are computed in double-double and solved for with the same factors. Ill-conditioned designs
 * (high powers of time, say) keep as many digits as their stored values determine.
 *
 * Source: Björck, BIT 1967;7:257-278.
 */
export function refinedLeastSquares(columns: readonly Float64Array[], outcome: Float64Array): LeastSquares {
  const { coefficients, residuals, qr } = leastSquares(columns, outcome);
  const k = columns.length;
  let last = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 8; round++) {
    const gap = wide(outcome);
    addMultiple(gap, -1, residuals);
    for (const [j, column] of columns.entries()) addMultiple(gap, -(coefficients[j] as number), column);
    const right = gap.high;
    for (let i = 0; i < right.length; i++) right[i] = (right[i] as number) + (gap.low[i] as number);
    const normal = columns.map(column => -wideDot(column, residuals));
    const inner = solveUpperTranspose(qr, normal);
    multiplyByQTranspose(qr, right);
    const step = solveUpper(
      qr,
      inner.map((value, j) => (right[j] as number) - value),
    );
    right.set(inner, 0);
    multiplyByQ(qr, right);
    let size = 0;
    for (let j = 0; j < k; j++) {
      const coefficient = coefficients[j] as number;
      size = Math.max(size, Math.abs(step[j] as number) / Math.max(Math.abs(coefficient), Number.MIN_VALUE));
    }
    // Stop before a correction that no longer shrinks: it is noise.
    if (!(size < last / 2)) break;
    for (let j = 0; j < k; j++) coefficients[j] = (coefficients[j] as number) + (step[j] as number);
    for (let i = 0; i < residuals.length; i++) {
      residuals[i] = (residuals[i] as number) + (right[i] as number);
    }
    // A correction this small leaves an error far below rounding.
    if (size < 1e-14) break;
    last = size;
  }
  return { coefficients, residuals, qr };
}
