/** A pivot below this share of its diagonal entry counts as none: the row depends on the rows before it. */
const negligible = 1e-11;

export interface QuadraticForm {
  readonly value: number;
  readonly rank: number;
}

/**
 * u' V^- u for a score vector u with its covariance V (symmetric, rows of equal length, not negative), and
 * the rank of V. A Cholesky decomposition in the order given; a row that depends on the rows before it is
 * left out, which gives the same value as any generalised inverse when u lies in the range of V, as score
 * vectors do.
 */
export function quadraticForm(u: readonly number[], v: readonly (readonly number[])[]): QuadraticForm {
  const root: number[][] = [];
  const solved: number[] = [];
  const kept: number[] = [];
  for (let i = 0; i < u.length; i++) {
    const row = kept.map(j => v[i]?.[j] ?? 0);
    for (let a = 0; a < kept.length; a++) {
      let sum = row[a] ?? 0;
      for (let b = 0; b < a; b++) sum -= (row[b] ?? 0) * (root[a]?.[b] ?? 0);
      row[a] = sum / (root[a]?.[a] ?? 1);
    }
    const own = v[i]?.[i] ?? 0;
    const pivot = row.reduce((rest, x) => rest - x * x, own);
    if (!(pivot > negligible * own)) continue;
    const diagonal = Math.sqrt(pivot);
    const rest = row.reduce((left, x, a) => left - x * (solved[a] ?? 0), u[i] ?? 0);
    root.push([...row, diagonal]);
    solved.push(rest / diagonal);
    kept.push(i);
  }
  return { value: solved.reduce((sum, x) => sum + x * x, 0), rank: kept.length };
}
