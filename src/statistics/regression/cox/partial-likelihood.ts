import type { RiskSets } from './risk-sets.ts';
import type { CoxTies } from './types.ts';

/**
 * Rows which stay in later risk sets after their exit with a shrinking weight (competing events in a
 * subdistribution hazard model): at t the row counts with `factor[row] * groupWeight[group of t]`.
 */
export interface Carried {
  readonly factor: Float64Array;
  readonly groupWeight: Float64Array;
}

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

/**
 * Partial log likelihood, score and observed information at `beta` (in the scaled covariates), in one
 * pass from the last time to the first.
 *
 * With d events at t of mean weight w, risk-set sum S and sum over those events D, Breslow's likelihood
 * subtracts d w log S, and Efron's sums w log(S - (k/d) D) over k = 0 ... d - 1. The d terms share S and
 * D, so their weights are summed first, and the p x p work is done once a time, not once an event.
 *
 * Source: Efron (1977), J Am Stat Assoc 72:557; Breslow (1974), Biometrics 30:89; weights as in
 * Therneau and Grambsch (2000), Modeling Survival Data, section 3.3 and 7.3.
 *
 * @returns the log likelihood; score and information are left in `work`
 */
export function partialLikelihood(
  sets: RiskSets,
  ties: CoxTies,
  beta: Float64Array,
  work: Workspace,
  carried?: Carried,
): number {
  const { p, z, event, offset, weight, groupTime, groupEnd, groupDeaths, stratumEnd, entryOrder } = sets;
  const { risk, score, information, s1, s2, d1, d2, c1, c2 } = work;
  const efron = ties === 'efron';
  relativeRisks(sets, beta, work);
  score.fill(0);
  information.fill(0);
  c1.fill(0);
  c2.fill(0);
  let c0 = carried === undefined ? 0 : carriedSums(sets, carried, work);
  let logLikelihood = 0;
  let lost = 0; // Neumaier's correction to the sum
  let row = 0;
  let group = 0;
  for (let stratum = 0; stratum < stratumEnd.length; stratum++) {
    const lastGroup = stratumEnd[stratum] as number;
    const stratumFirst = row;
    let entered = row;
    let s0 = 0;
    s1.fill(0);
    s2.fill(0);
    for (; group < lastGroup; group++) {
      const end = groupEnd[group] as number;
      const deaths = groupDeaths[group] as number;
      if (entryOrder !== undefined && deaths > 0) {
        const t = groupTime[group] as number;
        const entryTime = sets.entryTime as Float64Array;
        // Rows that enter at t or later have all exited after t: they are in the sums.
        while (entered < row && (entryTime[entered] as number) >= t) {
          const place = entryOrder[entered] as number;
          s0 += addRow(z, place * p, p, -(risk[place] as number), s1, s2);
          entered++;
        }
        if (entered === row && row > stratumFirst) {
          s0 = 0;
          s1.fill(0);
          s2.fill(0);
        }
      }
      if (deaths === 0) {
        for (; row < end; row++) s0 += addRow(z, row * p, p, risk[row] as number, s1, s2);
        if (carried !== undefined) c0 = dropCarried(sets, carried, group, work, c0);
        continue;
      }
      let d0 = 0;
      let deathWeight = 0;
      let linear = 0;
      d1.fill(0);
      d2.fill(0);
      for (; row < end; row++) {
        if (event[row] === 0) {
          s0 += addRow(z, row * p, p, risk[row] as number, s1, s2);
          continue;
        }
        d0 += addRow(z, row * p, p, risk[row] as number, d1, d2);
        const w = weight === undefined ? 1 : (weight[row] as number);
        deathWeight += w;
        let eta = offset === undefined ? 0 : (offset[row] as number);
        for (let j = 0; j < p; j++) {
          const x = z[row * p + j] as number;
          eta += (beta[j] as number) * x;
          score[j] = (score[j] as number) + w * x;
        }
        linear += w * (eta - work.largest);
      }
      if (carried !== undefined) c0 = dropCarried(sets, carried, group, work, c0);
      s0 += d0;
      for (let j = 0; j < p; j++) s1[j] = (s1[j] as number) + (d1[j] as number);
      for (let k = 0; k < s2.length; k++) s2[k] = (s2[k] as number) + (d2[k] as number);
      const g = carried === undefined ? 0 : (carried.groupWeight[group] as number);
      const total = s0 + g * c0;
      // Sums over the d terms of w / denominator and its products with the share k/d.
      const w = efron ? deathWeight / deaths : deathWeight;
      const terms = efron ? deaths : 1;
      let a0 = 0;
      let a1 = 0;
      let b0 = 0;
      let b1 = 0;
      let b2 = 0;
      let logs = 0;
      for (let k = 0; k < terms; k++) {
        const share = k / terms;
        const denominator = total - share * d0;
        const inverse = 1 / denominator;
        logs += Math.log(denominator);
        a0 += inverse;
        a1 += share * inverse;
        b0 += inverse * inverse;
        b1 += share * inverse * inverse;
        b2 += share * share * inverse * inverse;
      }
      const gain = linear - w * logs;
      const sum = logLikelihood + gain;
      lost +=
        Math.abs(logLikelihood) >= Math.abs(gain) ? logLikelihood - sum + gain : gain - sum + logLikelihood;
      logLikelihood = sum;
      for (let j = 0, at = 0; j < p; j++) {
        const sj = (s1[j] as number) + g * (c1[j] as number);
        const dj = d1[j] as number;
        score[j] = (score[j] as number) - w * (a0 * sj - a1 * dj);
        for (let k = 0; k <= j; k++, at++) {
          const sk = (s1[k] as number) + g * (c1[k] as number);
          const dk = d1[k] as number;
          const second = a0 * ((s2[at] as number) + g * (c2[at] as number)) - a1 * (d2[at] as number);
          const means = b0 * sj * sk - b1 * (sj * dk + dj * sk) + b2 * dj * dk;
          information[j * p + k] = (information[j * p + k] as number) + w * (second - means);
        }
      }
    }
  }
  for (let j = 0; j < p; j++) {
    for (let k = 0; k < j; k++) information[k * p + j] = information[j * p + k] as number;
  }
  return logLikelihood + lost;
}

/** Adds r z and r z z' (lower triangle) to the sums; returns r. */
export function addRow(
  z: Float64Array,
  from: number,
  p: number,
  r: number,
  first: Float64Array,
  second: Float64Array,
): number {
  for (let j = 0, at = 0; j < p; j++) {
    const rz = r * (z[from + j] as number);
    first[j] = (first[j] as number) + rz;
    for (let k = 0; k <= j; k++, at++) second[at] = (second[at] as number) + rz * (z[from + k] as number);
  }
  return r;
}

function carriedSums(sets: RiskSets, carried: Carried, work: Workspace): number {
  let c0 = 0;
  for (let i = 0; i < sets.n; i++) {
    const f = carried.factor[i] as number;
    if (f > 0) c0 += addRow(sets.z, i * sets.p, sets.p, f * (work.risk[i] as number), work.c1, work.c2);
  }
  return c0;
}

/** Before its own exit time a row is in the risk set itself and not yet carried. */
function dropCarried(sets: RiskSets, carried: Carried, group: number, work: Workspace, c0: number): number {
  let sum = c0;
  for (
    let i = group === 0 ? 0 : (sets.groupEnd[group - 1] as number);
    i < (sets.groupEnd[group] as number);
    i++
  ) {
    const f = carried.factor[i] as number;
    if (f > 0) sum += addRow(sets.z, i * sets.p, sets.p, -f * (work.risk[i] as number), work.c1, work.c2);
  }
  return sum;
}
