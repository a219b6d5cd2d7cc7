import type { Plan } from '../../plan/plan.ts';
import { edgeLimits } from '../tools/clustered-share.ts';
import { type CausedFollowUp, DAYS_IN_WEEK, incidenceByDay, type IncidenceCurve } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';

/** A risk with its limits, or why it cannot be given. */
export type Risk =
  | { readonly estimate: number; readonly lower?: number; readonly upper?: number }
  | { readonly state: string };

/**
 * The risk of the event by the end of a week, in the presence of competing ends. It is known only if somebody was
 * followed so long, or if all follow-ups had ended in an event of some kind before. A risk of 0 or 1, for which the curve
 * has no limits, gets the exact ones of none, or all, of the infants whose state at that week is known. With a single
 * infant and errors clustered, any other risk has no limits.
 */
export function riskBy(
  items: readonly CausedFollowUp[],
  curve: IncidenceCurve,
  week: number,
  plan: Plan,
): Risk {
  if (items.length === 0) return { state: 'no data' };
  const day = week * DAYS_IN_WEEK;
  const longest = items.reduce((most, item) => Math.max(most, item.day), 0);
  const open = items.some(item => item.day === longest && item.cause === 0);
  if (day > longest && open) return { state: 'not followed so long' };
  const risk = incidenceByDay(curve, day);
  if (risk.estimate > 0 && risk.estimate < 1) {
    return plan.clustering.byInfant && countInfants(items) < 2 ? { estimate: risk.estimate } : risk;
  }
  const known = items.filter(item => item.day >= day || item.cause !== 0);
  const units = plan.clustering.byInfant ? countInfants(known) : known.length;
  return { estimate: risk.estimate, ...edgeLimits(risk.estimate === 0, units, plan) };
}
