import { squaredWeights } from '../survival/influence.ts';
import { greenwoodSums } from '../survival/kaplan-meier.ts';
import type { RiskSets } from '../survival/risk-sets.ts';
import type { CompetingFollowUp } from './competing-follow-up.ts';
import type { IncidenceSteps } from './incidence-steps.ts';

/**
 * The variance of `incidenceJackknife` where every row is a cluster of its own from the start: rows that
 * leave at one time in one way have the same influence, so sums of squared weights by time and way are
 * enough.
 */
export function jackknifeOfOwnRows(
  { rows, cause }: CompetingFollowUp,
  sets: RiskSets,
  steps: IncidenceSteps,
  code: number,
): Float64Array {
  const size = sets.times.length;
  const all = squaredWeights(rows, sets.place, size, rows.event, 1);
  const own = squaredWeights(rows, sets.place, size, cause, code);
  const censored = squaredWeights(rows, sets.place, size, rows.event, 0);
  const end = steps.incidence[size - 1] ?? 0;
  const driftA = greenwoodSums(sets);
  const driftB = incidenceDrift(sets, steps, end);
  let here = all.reduce((sum, w) => sum + w, 0) + censored.reduce((sum, w) => sum + w, 0);
  let aa = 0;
  let ab = 0;
  let bb = 0;
  const gone = (squares: number, a: number, b: number): void => {
    aa += squares * a * a;
    ab += squares * a * b;
    bb += squares * b * b;
  };
  const variance = new Float64Array(size);
  for (let k = 0; k < size; k++) {
    const atRisk = sets.atRisk[k] as number;
    const remaining = atRisk - (sets.events[k] as number);
    const toEnd = end - (steps.incidence[k] as number);
    const ofCause = own[k] as number;
    const ofOthers = (all[k] as number) - ofCause;
    const step = atRisk > 0 ? (steps.before[k] as number) / atRisk : 0;
    if (remaining <= 0 && atRisk > 0) {
      // Nobody is left: each takes one last step from the influence reached before.
      const gA = k > 0 ? (driftA[k - 1] as number) : 0;
      const gB = k > 0 ? (driftB[k - 1] as number) : 0;
      const share = (steps.events[k] as number) / atRisk;
      const others = -gB - toEnd * gA - step * share;
      const last = bb + 2 * toEnd * ab + toEnd * toEnd * aa;
      return variance.fill(last + ofCause * (others + step) ** 2 + ofOthers * others ** 2, k);
    }
    const jump = remaining > 0 ? 1 / remaining : 0;
    const gA = driftA[k] as number;
    const gB = driftB[k] as number;
    gone(ofCause, jump - gA, step - jump * toEnd - gB);
    gone(ofOthers, jump - gA, -jump * toEnd - gB);
    gone(censored[k] as number, -gA, -gB);
    here -= (all[k] as number) + (censored[k] as number);
    const still = Math.max(0, here) * (gB + toEnd * gA) ** 2;
    variance[k] = Math.max(0, bb + 2 * toEnd * ab + toEnd * toEnd * aa) + still;
  }
  return variance;
}

/** What a row under observation loses of B up to each time: see `incidenceJackknife`. */
export function incidenceDrift(sets: RiskSets, steps: IncidenceSteps, end: number): Float64Array {
  const drift = new Float64Array(sets.times.length);
  let sum = 0;
  for (let k = 0; k < drift.length; k++) {
    const atRisk = sets.atRisk[k] as number;
    const all = sets.events[k] as number;
    if (all > 0 && all < atRisk) {
      sum += ((steps.before[k] as number) * (steps.events[k] as number)) / atRisk ** 2;
      sum += (((steps.incidence[k] as number) - end) * all) / (atRisk * (atRisk - all));
    }
    drift[k] = sum;
  }
  return drift;
}
