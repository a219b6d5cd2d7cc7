/** A pivot below this share of its diagonal entry counts as none. */
const negligible = 1e-13;

/**
 * Lower triangular root of a symmetric matrix that is not negative. A row that depends on the rows before it
 * gets a pivot of 0 and is left out of solutions.
 */
export function cholesky(matrix: readonly (readonly number[])[]): Float64Array[] {
  const root: Float64Array[] = [];
  for (const [i, given] of matrix.entries()) {
    const row = new Float64Array(i + 1);
    for (let j = 0; j <= i; j++) {
      const other = j === i ? row : (root[j] as Float64Array);
      let sum = given[j] ?? 0;
      for (let k = 0; k < j; k++) sum -= (row[k] as number) * (other[k] as number);
      if (j === i) row[i] = sum > negligible * (given[i] ?? 0) ? Math.sqrt(sum) : 0;
      else row[j] = other[j] === 0 ? 0 : sum / (other[j] as number);
    }
    root.push(row);
  }
  return root;
}

/** Solves root root' x = right; 0 for rows left out. */
export function solveCholesky(root: readonly Float64Array[], right: readonly number[]): number[] {
  const x = Float64Array.from(right);
  for (const [i, row] of root.entries()) {
    let sum = x[i] as number;
    for (let k = 0; k < i; k++) sum -= (row[k] as number) * (x[k] as number);
    x[i] = row[i] === 0 ? 0 : sum / (row[i] as number);
  }
  for (let i = root.length - 1; i >= 0; i--) {
    let sum = x[i] as number;
    for (let k = i + 1; k < root.length; k++) sum -= (root[k]?.[i] ?? 0) * (x[k] as number);
    const pivot = root[i]?.[i] ?? 0;
    x[i] = pivot === 0 ? 0 : sum / pivot;
  }
  return Array.from(x);
}
