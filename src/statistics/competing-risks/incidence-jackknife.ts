import { orderByKey } from '../distinct-times.ts';
import { differenceOfSums } from '../survival/influence.ts';
import { greenwoodSums } from '../survival/kaplan-meier.ts';
import type { RiskSets } from '../survival/risk-sets.ts';
import type { CompetingFollowUp } from './competing-follow-up.ts';
import { incidenceDrift, jackknifeOfOwnRows } from './incidence-jackknife-of-rows.ts';
import type { IncidenceSteps } from './incidence-steps.ts';

/**
 * Infinitesimal-jackknife variance of one cause's incidence at every distinct time: the sum over clusters of
 * the squared derivative with respect to the cluster's weight.
 *
 * Let A be a row's influence on minus log event-free survival, with steps (event - hazard) / (at risk -
 * events). The influence on the incidence F at t is the sum over times up to t of S(t-) (event of the cause -
 * hazard of the cause) / at risk - A(t-) dF; by parts that is
 *   B(t) + (F(end) - F(t)) A(t), B with the same first steps plus (F - F(end)) dA.
 * Both A and B change for a row under observation by a drift common to all, so a cluster is three numbers
 * (its fixed parts of A and B, and its weight at risk) which change only when a row enters or leaves. Sums of
 * their products give the variance: linear in rows plus times. F(end) keeps the terms small where the risk
 * set is small.
 */
export function incidenceJackknife(
  data: CompetingFollowUp,
  sets: RiskSets,
  steps: IncidenceSteps,
  code: number,
): Float64Array {
  const { rows, cause } = data;
  if (!rows.cluster && !rows.entry) return jackknifeOfOwnRows(data, sets, steps, code);
  const { place, entryPlace } = sets;
  const { cluster, weight } = rows;
  const size = sets.times.length;
  const n = place.length;
  const leavers = orderByKey(place, size);
  const enterers = entryPlace ? orderByKey(entryPlace, size) : new Int32Array(0);
  const entries = entryPlace ?? place;
  const end = steps.incidence[size - 1] ?? 0;
  const driftA = greenwoodSums(sets);
  const driftB = incidenceDrift(sets, steps, end);
  const a = new Float64Array(rows.clusters);
  const b = new Float64Array(rows.clusters);
  const w = new Float64Array(rows.clusters);
  let aa = 0;
  let ab = 0;
  let bb = 0;
  let aw = 0;
  let bw = 0;
  let ww = 0;
  const change = (row: number, addA: number, addB: number, addW: number): void => {
    const c = cluster ? (cluster[row] as number) : row;
    const a0 = a[c] as number;
    const b0 = b[c] as number;
    const w0 = w[c] as number;
    const a1 = a0 + addA;
    const b1 = b0 + addB;
    const w1 = w0 + addW;
    aa += addA * (a0 + a1);
    ab += a1 * b1 - a0 * b0;
    bb += addB * (b0 + b1);
    aw += a1 * w1 - a0 * w0;
    bw += b1 * w1 - b0 * w0;
    ww += addW * (w0 + w1);
    a[c] = a1;
    b[c] = b1;
    w[c] = w1;
  };
  if (!entryPlace) for (let i = 0; i < n; i++) change(i, 0, 0, weight ? (weight[i] as number) : 1);
  const variance = new Float64Array(size);
  let entered = 0;
  let left = 0;
  let gA = 0;
  let gB = 0;
  for (let k = 0; k < size; k++) {
    while (entered < enterers.length && entries[enterers[entered] as number] === k) {
      const row = enterers[entered++] as number;
      const own = weight ? (weight[row] as number) : 1;
      change(row, own * gA, own * gB, own);
    }
    const atRisk = sets.atRisk[k] as number;
    const remaining = atRisk - (sets.events[k] as number);
    if (remaining <= 0 && atRisk > 0) {
      const last = lastVariance();
      return variance.fill(last, k);
    }
    const jumpA = remaining > 0 ? 1 / remaining : 0;
    const toEnd = end - (steps.incidence[k] as number);
    const jumpOwn = atRisk > 0 ? (steps.before[k] as number) / atRisk : 0;
    gA = driftA[k] as number;
    gB = driftB[k] as number;
    while (left < n && place[leavers[left] as number] === k) {
      const row = leavers[left++] as number;
      const own = weight ? (weight[row] as number) : 1;
      const event = cause[row] as number;
      const jA = event > 0 ? jumpA : 0;
      const jB = (event === code ? jumpOwn : 0) - jA * toEnd;
      change(row, own * (jA - gA), own * (jB - gB), -own);
    }
    const drift = gB + toEnd * gA;
    variance[k] = differenceOfSums(
      bb + toEnd * toEnd * aa + drift * drift * ww,
      2 * (drift * (bw + toEnd * aw) - toEnd * ab),
    );
  }
  return variance;

  /**
   * All at risk fail: event-free survival ends, and the incidence with it; the influence takes one last step,
   * in full.
   */
  function lastVariance(): number {
    const k = place[leavers[left] as number] as number;
    const atRisk = sets.atRisk[k] as number;
    const before = steps.before[k] as number;
    const share = (steps.events[k] as number) / atRisk;
    const toEnd = end - (k > 0 ? (steps.incidence[k - 1] as number) : 0);
    const influence = new Float64Array(rows.clusters);
    for (let c = 0; c < influence.length; c++) {
      const here = w[c] as number;
      const onA = (a[c] as number) - here * gA;
      const onB = (b[c] as number) - here * gB;
      influence[c] = onB + toEnd * onA - before * onA * share - (before * here * share) / atRisk;
    }
    for (let i = left; i < n && place[leavers[i] as number] === k; i++) {
      const row = leavers[i] as number;
      if (cause[row] !== code) continue;
      const c = cluster ? (cluster[row] as number) : row;
      influence[c] = (influence[c] as number) + ((weight ? (weight[row] as number) : 1) * before) / atRisk;
    }
    return influence.reduce((sum, u) => sum + u * u, 0);
  }
}
