/**
 * Cholesky factors of small symmetric matrices, stored row by row in one `Float64Array` of p x p.
 * Written by hand because the regression loops must not allocate.
 */

/**
 * Factors a symmetric positive definite matrix A = L L' in place; the lower triangle becomes L.
 *
 * @returns -1, or the column whose pivot is less than `tolerance` times its own diagonal element, which
 * is then a linear combination of the columns before it
 */
export function choleskyInPlace(a: Float64Array, p: number, tolerance: number): number {
  for (let j = 0; j < p; j++) {
    const diagonal = a[j * p + j] as number;
    let pivot = diagonal;
    for (let k = 0; k < j; k++) pivot -= (a[j * p + k] as number) ** 2;
    if (!(pivot > tolerance * diagonal) || !Number.isFinite(pivot)) return j;
    const root = Math.sqrt(pivot);
    a[j * p + j] = root;
    for (let i = j + 1; i < p; i++) {
      let sum = a[i * p + j] as number;
      for (let k = 0; k < j; k++) sum -= (a[i * p + k] as number) * (a[j * p + k] as number);
      a[i * p + j] = sum / root;
    }
  }
  return -1;
}

/** Solves L x = b in place, with L as left by `choleskyInPlace`. */
export function forwardSolve(l: Float64Array, p: number, x: Float64Array): void {
  for (let i = 0; i < p; i++) {
    let sum = x[i] as number;
    for (let k = 0; k < i; k++) sum -= (l[i * p + k] as number) * (x[k] as number);
    x[i] = sum / (l[i * p + i] as number);
  }
}

/** Solves A x = b in place, with A = L L' as factored by `choleskyInPlace`. */
export function choleskySolve(l: Float64Array, p: number, x: Float64Array): void {
  forwardSolve(l, p, x);
  for (let i = p - 1; i >= 0; i--) {
    let sum = x[i] as number;
    for (let k = i + 1; k < p; k++) sum -= (l[k * p + i] as number) * (x[k] as number);
    x[i] = sum / (l[i * p + i] as number);
  }
}

/** The inverse of A from its factor, as a full symmetric matrix. */
export function choleskyInverse(l: Float64Array, p: number): Float64Array {
  const inverse = new Float64Array(p * p);
  const column = new Float64Array(p);
  for (let j = 0; j < p; j++) {
    column.fill(0);
    column[j] = 1;
    choleskySolve(l, p, column);
    for (let i = 0; i < p; i++) inverse[i * p + j] = column[i] as number;
  }
  for (let i = 0; i < p; i++) {
    for (let j = 0; j < i; j++) {
      const mean = ((inverse[i * p + j] as number) + (inverse[j * p + i] as number)) / 2;
      inverse[i * p + j] = mean;
      inverse[j * p + i] = mean;
    }
  }
  return inverse;
}

/**
 * The quadratic form u' A^-1 u, or `undefined` where A is not positive definite to working precision.
 * A is scaled to a unit diagonal first, so that the answer does not depend on the units of the columns.
 */
export function inverseQuadraticForm(a: ArrayLike<number>, u: ArrayLike<number>): number | undefined {
  const p = u.length;
  const scaled = new Float64Array(p * p);
  const x = new Float64Array(p);
  for (let i = 0; i < p; i++) {
    const si = Math.sqrt(a[i * p + i] as number);
    if (!(si > 0)) return undefined;
    x[i] = (u[i] as number) / si;
    for (let j = 0; j < p; j++) {
      scaled[i * p + j] = (a[i * p + j] as number) / (si * Math.sqrt(a[j * p + j] as number));
    }
  }
  if (choleskyInPlace(scaled, p, 1e-11) >= 0) return undefined;
  forwardSolve(scaled, p, x);
  let sum = 0;
  for (let i = 0; i < p; i++) sum += (x[i] as number) ** 2;
  return sum;
}

/** A flat p x p matrix as an array of rows. */
export function matrixRows(a: ArrayLike<number>, p: number): number[][] {
  return Array.from({ length: p }, (_, i) => Array.from({ length: p }, (_, j) => a[i * p + j] as number));
}
