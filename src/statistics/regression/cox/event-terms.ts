import type { Carried } from './partial-likelihood.ts';
import type { Workspace } from './workspace.ts';
import type { RiskSets } from './risk-sets.ts';
import type { CoxTies } from './types.ts';

/**
 * What each event time contributes, and running totals from the first time of the stratum on. Event times
 * are numbered as they are met: by stratum, from the last time to the first. Hazards are those of a row
 * with relative risk 1 in the workspace, that is with the largest linear predictor.
 *
 * Under Efron's ties the k-th of d terms lets every tied event count 1 - k/d; `share...` are the parts of
 * the hazard that the tied events themselves do not bear.
 */
export interface EventTerms {
  readonly count: number;
  /** The group of each event time. */
  readonly group: Int32Array;
  readonly hazard: Float64Array;
  readonly share: Float64Array;
  /** Hazard times mean covariate, `count` x p. */
  readonly hazardMean: Float64Array;
  readonly shareMean: Float64Array;
  /** Mean covariate of the risk set, averaged over the tied terms. */
  readonly mean: Float64Array;
  /** Variance of the hazard increment given the coefficients. */
  readonly variance: Float64Array;
  /** For each group, the first event time at or before it in the stratum; -1 if there is none. */
  readonly atGroup: Int32Array;
}

/** Needs the relative risks of `work` (see `relativeRisks`). */
export function eventTerms(sets: RiskSets, ties: CoxTies, work: Workspace, carried?: Carried): EventTerms {
  const { p, z, event, weight, groupTime, groupEnd, groupDeaths, stratumEnd, entryOrder, entryTime } = sets;
  const { risk } = work;
  let count = 0;
  for (let g = 0; g < sets.groups; g++) if ((groupDeaths[g] as number) > 0) count++;
  const result = emptyTerms(count, p, sets.groups);
  const s1 = new Float64Array(p);
  const d1 = new Float64Array(p);
  const c1 = new Float64Array(p);
  const add = (place: number, r: number, sums: Float64Array): number => {
    for (let j = 0; j < p; j++) sums[j] = (sums[j] as number) + r * (z[place * p + j] as number);
    return r;
  };
  let c0 = 0;
  if (carried !== undefined) {
    for (let i = 0; i < sets.n; i++) c0 += add(i, (carried.factor[i] as number) * (risk[i] as number), c1);
  }
  let row = 0;
  let group = 0;
  let e = 0;
  for (let stratum = 0; stratum < stratumEnd.length; stratum++) {
    const stratumFirst = row;
    let entered = row;
    let s0 = 0;
    s1.fill(0);
    for (; group < (stratumEnd[stratum] as number); group++) {
      const end = groupEnd[group] as number;
      const deaths = groupDeaths[group] as number;
      if (entryOrder !== undefined && entryTime !== undefined && deaths > 0) {
        while (entered < row && (entryTime[entered] as number) >= (groupTime[group] as number)) {
          const place = entryOrder[entered] as number;
          s0 += add(place, -(risk[place] as number), s1);
          entered++;
        }
        if (entered === row && row > stratumFirst) {
          s0 = 0;
          s1.fill(0);
        }
      }
      let d0 = 0;
      let deathWeight = 0;
      d1.fill(0);
      for (; row < end; row++) {
        const r = risk[row] as number;
        s0 += add(row, r, s1);
        if (event[row] === 1) {
          d0 += add(row, r, d1);
          deathWeight += weight === undefined ? 1 : (weight[row] as number);
        }
        if (carried !== undefined) c0 += add(row, -(carried.factor[row] as number) * r, c1);
      }
      if (deaths === 0) continue;
      const g = carried === undefined ? 0 : (carried.groupWeight[group] as number);
      const efron = ties === 'efron';
      const terms = efron ? deaths : 1;
      const w = efron ? deathWeight / deaths : deathWeight;
      let a0 = 0;
      let a1 = 0;
      let b0 = 0;
      let b1 = 0;
      let b2 = 0;
      for (let k = 0; k < terms; k++) {
        const share = k / terms;
        const inverse = 1 / (s0 + g * c0 - share * d0);
        a0 += inverse;
        a1 += share * inverse;
        b0 += inverse * inverse;
        b1 += share * inverse * inverse;
        b2 += share * share * inverse * inverse;
      }
      result.group[e] = group;
      result.hazard[e] = w * a0;
      result.share[e] = w * a1;
      result.variance[e] = w * b0;
      for (let j = 0; j < p; j++) {
        const sj = (s1[j] as number) + g * (c1[j] as number);
        const dj = d1[j] as number;
        result.hazardMean[e * p + j] = w * (b0 * sj - b1 * dj);
        result.shareMean[e * p + j] = w * (b1 * sj - b2 * dj);
        result.mean[e * p + j] = (a0 * sj - a1 * dj) / terms;
      }
      e++;
    }
  }
  numberGroups(sets, result.atGroup);
  return result;
}

/** Running totals of `increments` (`count` x p) from the first event time of each stratum to each. */
export function runningTotals(
  sets: Pick<RiskSets, 'stratumEnd'>,
  events: EventTerms,
  increments: Float64Array,
  p: number,
): Float64Array {
  const totals = increments.slice();
  let stratum = sets.stratumEnd.length - 1;
  for (let e = events.count - 2; e >= 0; e--) {
    const next = events.group[e + 1] as number;
    while (stratum > 0 && next < (sets.stratumEnd[stratum - 1] as number)) stratum--;
    const first = stratum === 0 ? 0 : (sets.stratumEnd[stratum - 1] as number);
    if ((events.group[e] as number) < first) continue;
    for (let j = 0; j < p; j++) {
      totals[e * p + j] = (totals[e * p + j] as number) + (totals[(e + 1) * p + j] as number);
    }
  }
  return totals;
}

/** For each place, the last event time at or before its entry in the stratum; -1 if there is none. */
export function eventsBeforeEntry(sets: RiskSets, events: EventTerms): Int32Array | undefined {
  const { entryOrder, entryTime, groupTime, groupEnd, stratumEnd } = sets;
  if (entryOrder === undefined || entryTime === undefined) return undefined;
  const before = new Int32Array(sets.n);
  let at = 0;
  let group = 0;
  for (const lastGroup of stratumEnd) {
    const end = lastGroup === 0 ? 0 : (groupEnd[lastGroup - 1] as number);
    for (; at < end; at++) {
      const t = entryTime[at] as number;
      while (group < lastGroup && (groupTime[group] as number) > t) group++;
      before[entryOrder[at] as number] = group < lastGroup ? (events.atGroup[group] as number) : -1;
    }
    group = lastGroup;
  }
  return before;
}

function numberGroups(sets: RiskSets, atGroup: Int32Array): void {
  let e = 0;
  let group = 0;
  const numbers = new Int32Array(sets.groups);
  for (let g = 0; g < sets.groups; g++) {
    numbers[g] = e;
    if ((sets.groupDeaths[g] as number) > 0) e++;
  }
  for (const lastGroup of sets.stratumEnd) {
    const after = lastGroup < sets.groups ? (numbers[lastGroup] as number) : e;
    for (; group < lastGroup; group++) {
      const number = numbers[group] as number;
      atGroup[group] = number < after ? number : -1;
    }
  }
}

function emptyTerms(count: number, p: number, groups: number): EventTerms {
  return {
    count,
    group: new Int32Array(count),
    hazard: new Float64Array(count),
    share: new Float64Array(count),
    hazardMean: new Float64Array(count * p),
    shareMean: new Float64Array(count * p),
    mean: new Float64Array(count * p),
    variance: new Float64Array(count),
    atGroup: new Int32Array(groups),
  };
}
