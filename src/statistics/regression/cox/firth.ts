import { choleskyInPlace, choleskyInverse } from '../../linear-algebra/cholesky.ts';
import type { Objective } from './newton.ts';
import { partialLikelihood } from './partial-likelihood.ts';
import { addRow } from './row-sums.ts';
import { type Workspace } from './workspace.ts';
import type { RiskSets } from './risk-sets.ts';
import type { CoxTies } from './types.ts';

/**
 * The partial log likelihood plus half the log determinant of its information: Jeffreys' penalty, which
 * takes off the first-order bias and keeps estimates finite under separation. The r-th penalised score is
 * U_r + (1/2) trace(I^-1 dI/dbeta_r). The steps use the curvature of the penalised likelihood, as steps by the
 * unpenalised information can overshoot for ever; standard errors are from the latter, as in the source.
 *
 * Source: Firth (1993), Biometrika 80:27; Heinze and Schemper (2001), Biometrics 57:114, eq. 3.
 */
export function firthObjective(sets: RiskSets, ties: CoxTies, work: Workspace): Objective {
  const p = sets.p;
  let units = 0;
  for (let j = 0; j < p; j++) units += Math.log(sets.scale[j] as number);
  const score = new Float64Array(p);
  const curvature = new Float64Array(p * p);
  const penalised = (beta: Float64Array): number => {
    const logLikelihood = partialLikelihood(sets, ties, beta, work);
    const factor = work.information.slice();
    // Singular here means collinear, which the caller names, or a step too long, which it halves.
    if (choleskyInPlace(factor, p, 1e-13) >= 0) return Number.NEGATIVE_INFINITY;
    let logDeterminant = 0;
    for (let j = 0; j < p; j++) logDeterminant += 2 * Math.log(factor[j * p + j] as number);
    addPenaltyScore(sets, ties, choleskyInverse(factor, p), work);
    return logLikelihood + logDeterminant / 2 + units;
  };
  /** By central differences of the score: good to 1e-8, which the steps after make up for. */
  const differentiate = (beta: Float64Array): void => {
    const moved = beta.slice();
    for (let j = 0; j < p; j++) {
      const at = beta[j] as number;
      for (const sign of [1, -1]) {
        moved[j] = at + sign * DIFFERENCE;
        penalised(moved);
        for (let k = 0; k < p; k++) {
          const change = (-sign * (work.score[k] as number)) / (2 * DIFFERENCE);
          curvature[j * p + k] = (sign === 1 ? 0 : (curvature[j * p + k] as number)) + change;
        }
      }
      moved[j] = at;
    }
    for (let j = 0; j < p; j++) {
      for (let k = 0; k < j; k++) {
        const mean = ((curvature[j * p + k] as number) + (curvature[k * p + j] as number)) / 2;
        curvature[j * p + k] = mean;
        curvature[k * p + j] = mean;
      }
    }
  };
  return {
    names: sets.names,
    range: sets.range,
    unit: sets.eventWeights / sets.events,
    score,
    information: work.information,
    curvature,
    evaluate(beta) {
      differentiate(beta);
      const value = penalised(beta);
      score.set(work.score);
      // Far from the maximum the penalised likelihood may not be concave: then the information steps.
      if (choleskyInPlace(curvature.slice(), p, 1e-13) >= 0) curvature.set(work.information);
      return value;
    },
  };
}

/** In standard deviations of the covariate. */
const DIFFERENCE = 1e-4;

/**
 * Adds (1/2) trace(A dI/dbeta_r) to the score. dI/dbeta_r is the sum over events of the third central
 * moment of the covariates in the risk set; with q = z'Az and m the mean, its trace with A is
 * cov(q, z_r) - 2 sum over s of (Am)_s cov(z_s, z_r).
 */
function addPenaltyScore(sets: RiskSets, ties: CoxTies, a: Float64Array, work: Workspace): void {
  const { p, z, event, weight, groupTime, groupEnd, groupDeaths, stratumEnd, entryOrder, entryTime } = sets;
  const { risk, s1, s2, d1, d2 } = work;
  const q = quadraticForms(sets, a);
  const sq = new Float64Array(p);
  const dq = new Float64Array(p);
  const moments: Moments = {
    zero: 0,
    q: 0,
    first: new Float64Array(p),
    second: s2.slice(),
    qz: new Float64Array(p),
  };
  const addQ = (i: number, r: number, sums: Float64Array): number => {
    const rq = r * (q[i] as number);
    for (let j = 0; j < p; j++) sums[j] = (sums[j] as number) + rq * (z[i * p + j] as number);
    return rq;
  };
  let row = 0;
  let group = 0;
  for (let stratum = 0; stratum < stratumEnd.length; stratum++) {
    let entered = row;
    let s0 = 0;
    let q0 = 0;
    for (const sums of [s1, s2, sq]) sums.fill(0);
    for (; group < (stratumEnd[stratum] as number); group++) {
      const end = groupEnd[group] as number;
      const deaths = groupDeaths[group] as number;
      if (entryOrder !== undefined && entryTime !== undefined && deaths > 0) {
        while (entered < row && (entryTime[entered] as number) >= (groupTime[group] as number)) {
          const place = entryOrder[entered] as number;
          const r = -(risk[place] as number);
          s0 += addRow(z, place * p, p, r, s1, s2);
          q0 += addQ(place, r, sq);
          entered++;
        }
      }
      let d0 = 0;
      let dq0 = 0;
      let deathWeight = 0;
      for (const sums of [d1, d2, dq]) sums.fill(0);
      for (; row < end; row++) {
        const r = risk[row] as number;
        s0 += addRow(z, row * p, p, r, s1, s2);
        q0 += addQ(row, r, sq);
        if (event[row] === 0) continue;
        d0 += addRow(z, row * p, p, r, d1, d2);
        dq0 += addQ(row, r, dq);
        deathWeight += weight === undefined ? 1 : (weight[row] as number);
      }
      if (deaths === 0) continue;
      const terms = ties === 'efron' ? deaths : 1;
      for (let k = 0; k < terms; k++) {
        const share = k / terms;
        moments.zero = s0 - share * d0;
        moments.q = q0 - share * dq0;
        for (let j = 0; j < p; j++) {
          moments.first[j] = (s1[j] as number) - share * (d1[j] as number);
          moments.qz[j] = (sq[j] as number) - share * (dq[j] as number);
        }
        for (let j = 0; j < s2.length; j++) moments.second[j] = (s2[j] as number) - share * (d2[j] as number);
        addTrace(moments, a, deathWeight / terms / 2, work.score);
      }
    }
  }
}

interface Moments {
  zero: number;
  q: number;
  readonly first: Float64Array;
  readonly second: Float64Array;
  readonly qz: Float64Array;
}

function addTrace(moments: Moments, a: Float64Array, weight: number, score: Float64Array): void {
  const p = score.length;
  const { zero, first, second, qz } = moments;
  for (let r = 0; r < p; r++) {
    const meanR = (first[r] as number) / zero;
    let trace = (qz[r] as number) / zero - (moments.q / zero) * meanR;
    for (let s = 0; s < p; s++) {
      let am = 0;
      for (let t = 0; t < p; t++) am += (a[s * p + t] as number) * ((first[t] as number) / zero);
      const at = s > r ? (s * (s + 1)) / 2 + r : (r * (r + 1)) / 2 + s;
      trace -= 2 * am * ((second[at] as number) / zero - ((first[s] as number) / zero) * meanR);
    }
    score[r] = (score[r] as number) + weight * trace;
  }
}

function quadraticForms({ n, p, z }: RiskSets, a: Float64Array): Float64Array {
  const q = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < p; j++) {
      for (let k = 0; k < p; k++) {
        sum += (z[i * p + j] as number) * (a[j * p + k] as number) * (z[i * p + k] as number);
      }
    }
    q[i] = sum;
  }
  return q;
}
