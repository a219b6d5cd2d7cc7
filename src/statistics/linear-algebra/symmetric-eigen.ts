/** Eigenvalues of a symmetric matrix, in no order, and for each its eigenvector of length 1. */
export interface SymmetricEigen {
  readonly values: readonly number[];
  readonly vectors: readonly Float64Array[];
}

/** Each sweep squares the error, so that a matrix takes ten at most; the bound is there for numbers that are not finite. */
const MAXIMUM_SWEEPS = 50;

/**
 * Eigenvalues and eigenvectors of a small symmetric matrix by Jacobi's rotations, element by element in the order of the
 * rows, until each element off the diagonal is lost in the rounding of the two on the diagonal that it couples. Measured
 * against these two, and not against the whole matrix, small eigenvalues keep their digits.
 *
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., algorithms 8.5.1 and 8.5.3; Demmel & Veselic, SIAM J Matrix
 * Anal Appl 1992;13:1204-1245 (when to stop).
 *
 * @param matrix the rows, all finite
 */
export function symmetricEigen(matrix: readonly ArrayLike<number>[]): SymmetricEigen {
  const rows = matrix.map(row => Float64Array.from(row));
  const vectors = rows.map((_, i) => Float64Array.from(rows, (_row, j) => (i === j ? 1 : 0)));
  for (let sweep = 0, rotated = true; rotated && sweep < MAXIMUM_SWEEPS; sweep++) {
    rotated = false;
    for (const [p, first] of rows.entries()) {
      for (let q = p + 1; q < rows.length; q++) {
        const second = rows[q] as Float64Array;
        const off = first[q] as number;
        const [head, tail] = [first[p] as number, second[q] as number];
        if (off * off <= Number.EPSILON ** 2 * Math.abs(head * tail)) continue;
        rotated = true;
        const cotangent = (tail - head) / (2 * off);
        const tangent = (cotangent < 0 ? -1 : 1) / (Math.abs(cotangent) + Math.hypot(1, cotangent));
        const cosine = 1 / Math.hypot(1, tangent);
        const sine = tangent * cosine;
        rotate(first, second, cosine, sine);
        for (const row of rows) {
          const x = row[p] as number;
          const y = row[q] as number;
          row[p] = cosine * x - sine * y;
          row[q] = sine * x + cosine * y;
        }
        first[q] = 0;
        second[p] = 0;
        rotate(vectors[p] as Float64Array, vectors[q] as Float64Array, cosine, sine);
      }
    }
  }
  return { values: rows.map((row, i) => row[i] as number), vectors };
}

function rotate(a: Float64Array, b: Float64Array, cosine: number, sine: number): void {
  for (let i = 0; i < a.length; i++) {
    const x = a[i] as number;
    const y = b[i] as number;
    a[i] = cosine * x - sine * y;
    b[i] = sine * x + cosine * y;
  }
}
