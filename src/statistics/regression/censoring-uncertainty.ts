import type { CensoringWeights } from './censoring-weights.ts';
import { eventTerms } from './cox/event-terms.ts';
import type { Workspace } from './cox/workspace.ts';
import type { RiskSets } from './cox/risk-sets.ts';
import { carriedTotals } from './cox/score-residuals.ts';
import type { CoxTies } from './cox/types.ts';

/**
 * Adds to each row's score residual what the row contributes through the estimate of the censoring curve:
 * the integral of q(u) / pi(u) over the row's censoring martingale, with pi(u) the rows at risk of
 * censoring and q(u) the derivative of the score by the censoring hazard at u, which is the sum over
 * competing rows with X < u of their weighted score from u on (ties between X, u and the events as the
 * source writes them, X < u <= t).
 *
 * Source: Fine and Gray (1999), J Am Stat Assoc 94:496, the psi of eq. 7.
 *
 * @param work with the relative risks at the coefficients
 */
export function addCensoringUncertainty(
  sets: RiskSets,
  ties: CoxTies,
  anyEvent: Uint8Array,
  weights: CensoringWeights,
  work: Workspace,
  residuals: Float64Array,
): void {
  const { p, z, event, groups, groupEnd } = sets;
  const events = eventTerms(sets, ties, work, weights);
  const { hazard, hazardMean } = carriedTotals(sets, events, weights);
  const q = new Float64Array(p);
  const c1 = new Float64Array(p);
  let c0 = 0;
  const compensator = new Float64Array(p);
  const before = new Float64Array(p);
  // Up in time: the competing rows so far, and the compensator of each row's censoring martingale.
  for (let group = groups - 1; group >= 0; group--) {
    const first = group === 0 ? 0 : (groupEnd[group - 1] as number);
    const end = groupEnd[group] as number;
    const e = group + 1 < groups ? (events.atGroup[group + 1] as number) : -1;
    const later = (hazard[0] as number) - (e < 0 ? 0 : (hazard[e] as number));
    const atRisk = weights.atRisk[group] as number;
    const censored = weights.censored[group] as number;
    before.set(compensator);
    if (censored === 0) q.fill(0);
    for (let j = 0; j < (censored === 0 ? 0 : p); j++) {
      const laterMean = (hazardMean[j] as number) - (e < 0 ? 0 : (hazardMean[e * p + j] as number));
      q[j] = ((c1[j] as number) * later - c0 * laterMean) / atRisk;
      compensator[j] = (compensator[j] as number) + ((q[j] as number) * censored) / atRisk;
    }
    // Rows with an event at this time are at risk of a censoring at it only under that convention.
    const eventsStay = atRisk === end;
    for (let i = first; i < end; i++) {
      const ended = anyEvent[i] === 1 || event[i] === 1;
      const borne = ended && !eventsStay ? before : compensator;
      for (let j = 0; j < p; j++) {
        residuals[i * p + j] =
          (residuals[i * p + j] as number) + (ended ? 0 : (q[j] as number)) - (borne[j] as number);
      }
    }
    for (let i = first; i < end; i++) {
      const factor = weights.factor[i] as number;
      if (!(factor > 0)) continue;
      const r = factor * (work.risk[i] as number);
      c0 += r;
      for (let j = 0; j < p; j++) c1[j] = (c1[j] as number) + r * (z[i * p + j] as number);
    }
  }
}
