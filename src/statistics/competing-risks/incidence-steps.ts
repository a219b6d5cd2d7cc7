import type { RiskSets } from '../survival/risk-sets.ts';

/** One cause's incidence at every distinct time, with what its variances need. */
export interface IncidenceSteps {
  /** Event-free just before and just after the time, all causes counted. */
  readonly before: Float64Array;
  readonly after: Float64Array;
  /** Events of the cause (sum of weights). */
  readonly events: Float64Array;
  readonly incidence: Float64Array;
}

/**
 * Aalen-Johansen for one cause: incidence grows by event-free survival just before t times the share of those
 * at risk with the cause at t.
 */
export function incidenceSteps(sets: RiskSets, after: Float64Array, events: Float64Array): IncidenceSteps {
  const size = after.length;
  const before = new Float64Array(size);
  const incidence = new Float64Array(size);
  let total = 0;
  for (let k = 0; k < size; k++) {
    const s = k === 0 ? 1 : (after[k - 1] as number);
    const d = events[k] as number;
    if (d > 0) total += (s * d) / (sets.atRisk[k] as number);
    before[k] = s;
    incidence[k] = total;
  }
  return { before, after, events, incidence };
}
