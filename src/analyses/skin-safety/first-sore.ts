import { BANDS, type Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { type SurvivalCurve, survivalAt } from '../../statistics/survival/index.ts';
import { edgeLimits } from '../tools/clustered-share.ts';
import { type CausedFollowUp, DAYS_IN_WEEK, survivalOf, withLimits } from '../tools/curves.ts';
import { byGroup, countInfants } from '../tools/people.ts';
import { SORE } from './events.ts';

/** Feet of one group and their first blister or pressure sore. */
export interface FirstSore {
  readonly group: string;
  readonly items: readonly CausedFollowUp[];
  readonly survival: SurvivalCurve;
}

/** Time to the first blister or pressure sore for all feet and by band; the end of therapy censors. */
export function firstSores(feet: readonly Foot[], plan: Plan): readonly FirstSore[] {
  if (feet.length === 0) return [];
  const rows = feet.map(foot => ({ band: foot.band, item: firstOf(foot) }));
  return [{ group: 'all', items: rows }, ...byGroup(rows, BANDS, row => row.band)].map(part => {
    const items = part.items.map(row => row.item);
    return { group: part.group, items, survival: survivalOf(items, plan) };
  });
}

function firstOf(foot: Foot): CausedFollowUp {
  const { episode, infant, lastDay } = foot;
  const first = foot.events.find(
    event => event.day >= 0 && event.day <= lastDay && SORE.kinds.includes(event.kind),
  );
  return { episode, infant, day: first?.day ?? lastDay, cause: first === undefined ? 0 : 1 };
}

/** Share of feet with a first blister or sore by the end of a week of therapy, or why it cannot be given. */
export function shareWithSore({ items, survival }: FirstSore, week: number, plan: Plan) {
  const day = week * DAYS_IN_WEEK;
  const atRisk = items.filter(item => item.day >= day);
  if (atRisk.length === 0) return { state: 'not followed so long' };
  const [row] = survivalAt(survival, [day]);
  if (row === undefined) return { state: 'no data' };
  const estimate = 1 - row.survival;
  if (plan.clustering.byInfant && countInfants(items) < 2) return { estimate };
  if (estimate === 0) {
    const units = plan.clustering.byInfant ? countInfants(atRisk) : atRisk.length;
    return { estimate, ...edgeLimits(true, units, plan) };
  }
  return withLimits(
    estimate,
    row.upper === undefined ? undefined : 1 - row.upper,
    row.lower === undefined ? undefined : 1 - row.lower,
  );
}
