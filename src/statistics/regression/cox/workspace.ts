import type { RiskSets } from './risk-sets.ts';

/** Buffers for the sums of one pass; made once a fit, so that a pass allocates nothing. */
export interface Workspace {
  /** Relative risks, exp(linear predictor - largest), times the case weight. */
  readonly risk: Float64Array;
  /** The largest linear predictor, taken out so that no exponential overflows. */
  largest: number;
  readonly score: Float64Array;
  /** Observed information, p x p, row by row. */
  readonly information: Float64Array;
  /** Sums over the risk set: of risk, risk z, and the lower triangle of risk z z'. */
  readonly s1: Float64Array;
  readonly s2: Float64Array;
  /** The same sums over the events of one time. */
  readonly d1: Float64Array;
  readonly d2: Float64Array;
  /** And over the carried rows. */
  readonly c1: Float64Array;
  readonly c2: Float64Array;
}

export function workspace(n: number, p: number): Workspace {
  const vector = () => new Float64Array(p);
  const triangle = () => new Float64Array((p * (p + 1)) / 2);
  return {
    risk: new Float64Array(n),
    largest: 0,
    score: vector(),
    information: new Float64Array(p * p),
    s1: vector(),
    s2: triangle(),
    d1: vector(),
    d2: triangle(),
    c1: vector(),
    c2: triangle(),
  };
}

/** Fills `risk` with weight times exp(linear predictor - largest linear predictor). */
export function relativeRisks(sets: RiskSets, beta: Float64Array, work: Workspace): void {
  const { n, p, z, offset, weight } = sets;
  const { risk } = work;
  let largest = -Infinity;
  for (let i = 0, at = 0; i < n; i++) {
    let eta = offset === undefined ? 0 : (offset[i] as number);
    for (let j = 0; j < p; j++) eta += (beta[j] as number) * (z[at++] as number);
    risk[i] = eta;
    if (eta > largest) largest = eta;
  }
  work.largest = largest;
  if (weight === undefined) {
    for (let i = 0; i < n; i++) risk[i] = Math.exp((risk[i] as number) - largest);
  } else {
    for (let i = 0; i < n; i++) risk[i] = (weight[i] as number) * Math.exp((risk[i] as number) - largest);
  }
}
