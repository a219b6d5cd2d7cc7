import type { CodedLabels } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { leverages, type QrFactors, solveUpper, solveUpperTranspose } from '../linear-algebra/qr.ts';
import { symmetricEigen } from '../linear-algebra/symmetric-eigen.ts';

/** Which correction for small samples the robust covariance carries. */
export type RobustKind = 'hc0' | 'hc1' | 'hc2' | 'hc3';

export interface SandwichInput {
  readonly columns: readonly Float64Array[];
  /** Working weights of the fit; 1 for plain least squares. */
  readonly weights: Float64Array;
  /** Working residual times working weight: row i's score is this times its row of the design. */
  readonly scores: Float64Array;
  /** Factors of the design with each row multiplied by the square root of its weight. */
  readonly qr: QrFactors;
}

/**
 * Heteroscedasticity-consistent covariance of regression coefficients, B (sum over clusters of s s') B with
 * B = (X'WX)^-1 and s the sum of a cluster's scores; without clusters each row is its own.
 *
 * Corrections, with n rows, k terms, G clusters and h the hat values:
 * - rows independent: hc0 none; hc1 n/(n - k); hc2 scores divided by sqrt(1 - h); hc3 by 1 - h;
 * - clustered: hc0 G/(G - 1); hc1 G/(G - 1) (n - 1)/(n - k); hc2 a cluster's residuals multiplied by
 *   (I - H)^-1/2 and hc3 by (I - H)^-1, H being the cluster's block of the hat matrix, and no factor.
 *
 * Sources: White, Econometrica 1980;48:817 (hc0); MacKinnon & White, J Econom 1985;29:305 (hc1 to hc3);
 * Liang & Zeger, Biometrika 1986;73:13 (clusters); Bell & McCaffrey, Surv Methodol 2002;28:169 (clustered hc2, hc3).
 *
 * @throws StatisticsError `one-group` for a single cluster; `out-of-range` where hc2 or hc3 meets a row or cluster
 * that fits itself exactly
 */
export function sandwichCovariance(
  input: SandwichInput,
  kind: RobustKind,
  clusters: CodedLabels | undefined,
): number[][] {
  const { columns, qr } = input;
  const rows = input.scores.length;
  const terms = columns.length;
  if (clusters !== undefined && clusters.labels.length < 2) {
    throw new StatisticsError('one-group', 'cluster has one label; clustered errors need at least two');
  }
  const groups = clusters?.labels.length ?? rows;
  const scores =
    clusters === undefined
      ? rowCorrected(input, kind)
      : clusterCorrected(input, kind, clusters.codes, groups);
  const sums = columns.map(() => new Float64Array(groups));
  for (const [j, column] of columns.entries()) {
    const sum = sums[j] as Float64Array;
    for (let i = 0; i < rows; i++) {
      const group = clusters === undefined ? i : (clusters.codes[i] as number);
      sum[group] = (sum[group] as number) + (column[i] as number) * (scores[i] as number);
    }
  }
  const factor = smallSampleFactor(kind, rows, terms, clusters === undefined ? undefined : groups);
  return betweenBreads(qr, meat(sums), factor);
}

/** The factor that multiplies the sandwich, as the docstring of `sandwichCovariance` states it. */
export function smallSampleFactor(kind: RobustKind, rows: number, terms: number, groups?: number): number {
  if (groups === undefined) return kind === 'hc1' ? rows / (rows - terms) : 1;
  if (kind === 'hc2' || kind === 'hc3') return 1;
  return (groups / (groups - 1)) * (kind === 'hc1' ? (rows - 1) / (rows - terms) : 1);
}

function meat(sums: readonly Float64Array[]): number[][] {
  return sums.map(a =>
    sums.map(b => {
      let total = 0;
      for (let g = 0; g < a.length; g++) total += (a[g] as number) * (b[g] as number);
      return total;
    }),
  );
}

/** (R'R)^-1 M (R'R)^-1 by triangular solves, times a factor. */
function betweenBreads(qr: QrFactors, middle: number[][], factor: number): number[][] {
  const half = middle.map(row => solveUpper(qr, solveUpperTranspose(qr, row)));
  const terms = half.length;
  const full = Array.from({ length: terms }, (_, j) => {
    const column = half.map(row => row[j] ?? 0);
    return solveUpper(qr, solveUpperTranspose(qr, column));
  });
  // Made exactly symmetric: both halves hold the same value up to rounding.
  return full.map((row, a) => Array.from(row, (value, b) => (factor * (value + (full[b]?.[a] ?? 0))) / 2));
}

function rowCorrected(input: SandwichInput, kind: RobustKind): Float64Array {
  if (kind === 'hc0' || kind === 'hc1') return input.scores;
  const hat = leverages(input.qr);
  return input.scores.map((score, i) => {
    const free = 1 - (hat[i] as number);
    if (free < 1e-12) {
      throw new StatisticsError(
        'out-of-range',
        `row ${i} fits itself exactly; ${kind} is not defined: use hc0`,
      );
    }
    return kind === 'hc2' ? score / Math.sqrt(free) : score / free;
  });
}

function clusterCorrected(
  input: SandwichInput,
  kind: RobustKind,
  codes: Int32Array,
  groups: number,
): Float64Array {
  if (kind === 'hc0' || kind === 'hc1') return input.scores;
  const members: number[][] = Array.from({ length: groups }, () => []);
  for (const [i, code] of codes.entries()) members[code]?.push(i);
  const corrected = new Float64Array(input.scores.length);
  const power = kind === 'hc2' ? -0.5 : -1;
  for (const rows of members) correctCluster(input, kind, rows, power, corrected);
  return corrected;
}

/**
 * (I - H)^power times the cluster's scores. The block H of X B X' W is not symmetric unless weights are equal; its
 * symmetric form W^1/2 X B X' W^1/2 has the same eigenvalues, so the power is taken there.
 */
function correctCluster(
  input: SandwichInput,
  kind: RobustKind,
  rows: readonly number[],
  power: number,
  corrected: Float64Array,
): void {
  const roots = rows.map(i => Math.sqrt(input.weights[i] as number));
  const inner = rows.map((i, place) =>
    solveUpperTranspose(
      input.qr,
      input.columns.map(column => (column[i] as number) * (roots[place] as number)),
    ),
  );
  const block = inner.map((left, a) =>
    inner.map((right, b) => {
      let dot = 0;
      for (let j = 0; j < left.length; j++) dot += (left[j] as number) * (right[j] as number);
      return (a === b ? 1 : 0) - dot;
    }),
  );
  const { values, vectors } = symmetricEigen(block);
  if (values.some(value => value < 1e-12)) {
    throw new StatisticsError(
      'out-of-range',
      `a cluster fits itself exactly; ${kind} is not defined: use hc1`,
    );
  }
  const scaled = rows.map((i, a) => (input.scores[i] as number) * (roots[a] as number));
  for (const [e, vector] of vectors.entries()) {
    const along = scaled.reduce((sum, score, a) => sum + score * (vector[a] as number), 0);
    const stretched = along * (values[e] as number) ** power;
    for (const [a, i] of rows.entries()) {
      corrected[i] = (corrected[i] as number) + (stretched * (vector[a] as number)) / (roots[a] as number);
    }
  }
}
