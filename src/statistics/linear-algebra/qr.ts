/**
 * Householder QR factors of a matrix held as columns: below and on the diagonal of each column stands the reflector,
 * above it the upper triangle R, whose diagonal is kept apart.
 */
export interface QrFactors {
  readonly rows: number;
  readonly columns: readonly Float64Array[];
  readonly diagonal: Float64Array;
  /** Length of each original column below the pivot before it was reflected, relative to its full length. */
  readonly independence: Float64Array;
}

/**
 * Factors a matrix with at least as many rows as columns by Householder reflections, without pivoting.
 * `independence[j]` is the share of column j's length that the columns before it do not explain: near zero where it
 * is a linear combination of them.
 *
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., algorithm 5.2.1.
 */
export function householderQr(matrix: readonly Float64Array[]): QrFactors {
  const columns = matrix.map(column => Float64Array.from(column));
  const rows = columns[0]?.length ?? 0;
  const diagonal = new Float64Array(columns.length);
  const independence = new Float64Array(columns.length);
  const lengths = columns.map(column => norm(column, 0));
  for (const [j, column] of columns.entries()) {
    for (let before = 0; before < j; before++) reflect(columns[before] as Float64Array, before, column);
    const length = norm(column, j);
    const full = lengths[j] ?? 0;
    independence[j] = full > 0 ? length / full : 0;
    const pivot = column[j] ?? 0;
    diagonal[j] = pivot > 0 ? -length : length;
    if (length === 0) continue;
    // The reflector is scaled to v'v = 2, so that applying it needs one product and no division.
    const head = pivot - diagonal[j];
    const scale = Math.sqrt(length * Math.abs(head));
    column[j] = head / scale;
    for (let i = j + 1; i < rows; i++) column[i] = (column[i] as number) / scale;
  }
  return { rows, columns, diagonal, independence };
}

/** Replaces a vector by Q' times it. */
export function multiplyByQTranspose(qr: QrFactors, vector: Float64Array): void {
  for (const [j, column] of qr.columns.entries()) {
    if (qr.diagonal[j] !== 0) reflect(column, j, vector);
  }
}

/** Replaces a vector by Q times it. */
export function multiplyByQ(qr: QrFactors, vector: Float64Array): void {
  for (let j = qr.columns.length - 1; j >= 0; j--) {
    if (qr.diagonal[j] !== 0) reflect(qr.columns[j] as Float64Array, j, vector);
  }
}

/** Solves R x = b for the leading square triangle. */
export function solveUpper(qr: QrFactors, right: ArrayLike<number>): Float64Array {
  const k = qr.columns.length;
  const solution = new Float64Array(k);
  for (let i = 0; i < k; i++) solution[i] = right[i] ?? 0;
  for (let j = k - 1; j >= 0; j--) {
    const column = qr.columns[j] as Float64Array;
    const value = (solution[j] as number) / (qr.diagonal[j] as number);
    solution[j] = value;
    for (let i = 0; i < j; i++) solution[i] = (solution[i] as number) - value * (column[i] as number);
  }
  return solution;
}

/** Solves R' x = b for the leading square triangle. */
export function solveUpperTranspose(qr: QrFactors, right: ArrayLike<number>): Float64Array {
  const k = qr.columns.length;
  const solution = new Float64Array(k);
  for (let j = 0; j < k; j++) {
    const column = qr.columns[j] as Float64Array;
    let sum = right[j] ?? 0;
    for (let i = 0; i < j; i++) sum -= (column[i] as number) * (solution[i] as number);
    solution[j] = sum / (qr.diagonal[j] as number);
  }
  return solution;
}

/** The inverse of X'X, that is of R'R, as an array of rows. */
export function inverseCrossProduct(qr: QrFactors): number[][] {
  const k = qr.columns.length;
  const unit = new Float64Array(k);
  const inverse: Float64Array[] = [];
  for (let j = 0; j < k; j++) {
    unit.fill(0);
    unit[j] = 1;
    inverse.push(solveUpper(qr, unit));
  }
  const product = Array.from({ length: k }, () => Array.from({ length: k }, () => 0));
  for (let a = 0; a < k; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = 0;
      for (let j = a; j < k; j++) sum += (inverse[j]?.[a] ?? 0) * (inverse[j]?.[b] ?? 0);
      (product[a] as number[])[b] = sum;
      (product[b] as number[])[a] = sum;
    }
  }
  return product;
}

/** The hat values: for each row, the squared length of that row of Q's first columns. */
export function leverages(qr: QrFactors): Float64Array {
  const hat = new Float64Array(qr.rows);
  const unit = new Float64Array(qr.rows);
  for (let j = 0; j < qr.columns.length; j++) {
    unit.fill(0);
    unit[j] = 1;
    multiplyByQ(qr, unit);
    for (let i = 0; i < qr.rows; i++) hat[i] = (hat[i] as number) + (unit[i] as number) ** 2;
  }
  return hat;
}

function reflect(reflector: Float64Array, from: number, target: Float64Array): void {
  let dot = 0;
  for (let i = from; i < target.length; i++) dot += (reflector[i] as number) * (target[i] as number);
  if (dot === 0) return;
  for (let i = from; i < target.length; i++) {
    target[i] = (target[i] as number) - dot * (reflector[i] as number);
  }
}

function norm(column: Float64Array, from: number): number {
  let largest = 0;
  for (let i = from; i < column.length; i++) largest = Math.max(largest, Math.abs(column[i] as number));
  if (largest === 0) return 0;
  let sum = 0;
  for (let i = from; i < column.length; i++) sum += ((column[i] as number) / largest) ** 2;
  return largest * Math.sqrt(sum);
}
