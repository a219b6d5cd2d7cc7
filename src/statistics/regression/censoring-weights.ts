import type { Carried } from './cox/partial-likelihood.ts';
import type { RiskSets } from './cox/risk-sets.ts';

/** Whether rows with an event count at risk of a censoring at the same time. */
export type TiedCensoring = 'events-at-risk' | 'events-removed';

export interface CensoringWeights extends Carried {
  /** For each group: rows at risk of censoring, and censored. */
  readonly atRisk: Float64Array;
  readonly censored: Float64Array;
}

/**
 * Weights that keep rows with a competing event in later risk sets: G(t-) / G(X-), where X is the row's
 * own time and G the Kaplan-Meier curve of the time to censoring.
 *
 * @param anyEvent 1 for each place that ends in an event of any cause
 */
export function censoringWeights(
  sets: RiskSets,
  anyEvent: Uint8Array,
  tied: TiedCensoring,
): CensoringWeights {
  const { n, event, groups, groupEnd } = sets;
  const factor = new Float64Array(n);
  const groupWeight = new Float64Array(groups);
  const atRisk = new Float64Array(groups);
  const censored = new Float64Array(groups);
  let before = 1;
  for (let group = groups - 1; group >= 0; group--) {
    const first = group === 0 ? 0 : (groupEnd[group - 1] as number);
    const end = groupEnd[group] as number;
    let ended = 0;
    for (let i = first; i < end; i++) {
      if (anyEvent[i] === 0) continue;
      ended++;
      if (event[i] === 0) factor[i] = 1 / before;
    }
    groupWeight[group] = before;
    censored[group] = end - first - ended;
    atRisk[group] = tied === 'events-at-risk' ? end : end - ended;
    if (end - first > ended) before *= 1 - (censored[group] as number) / (atRisk[group] as number);
  }
  return { factor, groupWeight, atRisk, censored };
}
