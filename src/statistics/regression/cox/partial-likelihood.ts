import type { RiskSets } from './risk-sets.ts';
import { addRow, addRows } from './row-sums.ts';
import type { CoxTies } from './types.ts';
import { relativeRisks, type Workspace } from './workspace.ts';

/**
 * Rows which stay in later risk sets after their exit with a shrinking weight (competing events in a
 * subdistribution hazard model): at t the row counts with `factor[row] * groupWeight[group of t]`.
 */
export interface Carried {
  readonly factor: Float64Array;
  readonly groupWeight: Float64Array;
}

/**
 * Called after each group with events: its information and score alone. The buffers are the workspace's
 * own, emptied after the call, so that score and information are not totals at the end of the pass.
 */
export type EachTime = (group: number, information: Float64Array, score: Float64Array) => void;

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
  eachTime?: EachTime,
): number {
  const { p, z, groupTime, groupEnd, groupDeaths, stratumEnd, entryOrder, entryTime, eventWeight } = sets;
  const { risk, score, information, s1, s2, d1, d2, c1, c2 } = work;
  const triangle = s2.length;
  const efron = ties === 'efron';
  relativeRisks(sets, beta, work);
  // The events' own linear predictors add up to a total that does not depend on the risk sets.
  let logLikelihood = sets.eventOffset - work.largest * sets.eventWeights;
  for (let j = 0; j < p; j++) {
    score[j] = eachTime === undefined ? (sets.eventTotal[j] as number) : 0;
    logLikelihood += (beta[j] as number) * (sets.eventTotal[j] as number);
  }
  information.fill(0);
  c1.fill(0);
  c2.fill(0);
  let c0 = carried === undefined ? 0 : carriedSums(sets, carried, work);
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
      if (entryOrder !== undefined && entryTime !== undefined && deaths > 0) {
        const t = groupTime[group] as number;
        // Rows that enter at t or later have all exited after t: they are in the sums.
        while (entered < row && (entryTime[entered] as number) >= t) {
          const place = entryOrder[entered] as number;
          s0 += addRow(z, place * p, p, -(risk[place] as number), s1, s2);
          entered++;
        }
        // No one left at risk: what stands in the sums is rounding.
        if (entered === row && row > stratumFirst) {
          s0 = 0;
          s1.fill(0);
          s2.fill(0);
        }
      }
      if (carried !== undefined) c0 = dropCarried(sets, carried, group, work, c0);
      s0 += addRows(z, row + deaths, end, p, risk, s1, s2);
      if (deaths === 0) {
        row = end;
        continue;
      }
      for (let j = 0; j < p; j++) d1[j] = 0;
      for (let k = 0; k < triangle; k++) d2[k] = 0;
      const d0 = addRows(z, row, row + deaths, p, risk, d1, d2);
      row = end;
      s0 += d0;
      for (let j = 0; j < p; j++) s1[j] = (s1[j] as number) + (d1[j] as number);
      for (let k = 0; k < triangle; k++) s2[k] = (s2[k] as number) + (d2[k] as number);
      const g = carried === undefined ? 0 : (carried.groupWeight[group] as number);
      const total = s0 + g * c0;
      // Sums over the d terms of 1 / denominator and its products with the share k/d.
      const deathWeight = eventWeight === undefined ? deaths : (eventWeight[group] as number);
      const w = efron ? deathWeight / deaths : deathWeight;
      const terms = efron ? deaths : 1;
      let a0 = 0;
      let a1 = 0;
      let b0 = 0;
      let b1 = 0;
      let b2 = 0;
      let logs = 0;
      let product = 1; // one logarithm for many denominators
      for (let k = 0; k < terms; k++) {
        const share = k / terms;
        const denominator = total - share * d0;
        const inverse = 1 / denominator;
        product *= denominator;
        if (!(product > 1e-150 && product < 1e150)) {
          logs += Math.log(product);
          product = 1;
        }
        a0 += inverse;
        a1 += share * inverse;
        b0 += inverse * inverse;
        b1 += share * inverse * inverse;
        b2 += share * share * inverse * inverse;
      }
      const gain = -w * (logs + Math.log(product));
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
      if (eachTime !== undefined) {
        mirror(information, p);
        addEvents(sets, group, score);
        eachTime(group, information, score);
        information.fill(0);
        score.fill(0);
      }
    }
  }
  mirror(information, p);
  return logLikelihood + lost;
}

function mirror(information: Float64Array, p: number): void {
  for (let j = 0; j < p; j++) {
    for (let k = 0; k < j; k++) information[k * p + j] = information[j * p + k] as number;
  }
}

function addEvents(
  { p, z, weight, groupEnd, groupDeaths }: RiskSets,
  group: number,
  score: Float64Array,
): void {
  const first = group === 0 ? 0 : (groupEnd[group - 1] as number);
  for (let i = first; i < first + (groupDeaths[group] as number); i++) {
    const w = weight === undefined ? 1 : (weight[i] as number);
    for (let j = 0; j < p; j++) score[j] = (score[j] as number) + w * (z[i * p + j] as number);
  }
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
