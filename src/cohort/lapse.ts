import type { Plan } from '../plan/plan.ts';
import type { Foot, FollowUp, FootWear, PhaseSpell } from './cohort.ts';
import { ADHERENCE_SLACK, meanBetween } from './wear-measures.ts';

/**
 * Time to lapse in days since first fitting: the first adherence day for which the mean daily adherence of the window
 * that ends on it is under the plan's limit; else censored on the last evaluable day (one whose window has enough days
 * with data). Undefined if no day is evaluable.
 */
export function lapse(wear: FootWear | undefined, plan: Plan): FollowUp | undefined {
  if (wear === undefined) return undefined;
  return firstLapse(wear, plan.adherence.breakInDays, wear.lastDay, plan);
}

/**
 * Time to lapse within one phase, in days since the start of the spell. Windows lie within the spell and after the
 * break-in; without a lapse the spell is censored on its last evaluable day. Undefined if no day is evaluable.
 */
export function lapseInSpell(foot: Pick<Foot, 'wear'>, spell: PhaseSpell, plan: Plan): FollowUp | undefined {
  const { wear } = foot;
  if (wear === undefined) return undefined;
  const firstDay = Math.max(spell.startDay, plan.adherence.breakInDays);
  const found = firstLapse(wear, firstDay, Math.min(spell.endDay, wear.lastDay), plan);
  return found && { ...found, day: found.day - spell.startDay };
}

/** The first lapse among the days whose window lies within `firstDay` to `lastDay`. */
function firstLapse(wear: FootWear, firstDay: number, lastDay: number, plan: Plan): FollowUp | undefined {
  const { windowDays, minimumDays } = plan.lapse;
  const limit = plan.lapse.below - ADHERENCE_SLACK;
  let lastEvaluable: number | undefined;
  let from = 0;
  let to = 0;
  for (let day = Math.max(firstDay + windowDays - 1, wear.firstDay); day <= lastDay; day++) {
    while (from < wear.day.length && (wear.day[from] as number) <= day - windowDays) from++;
    while (to < wear.day.length && (wear.day[to] as number) <= day) to++;
    if (to - from < minimumDays) continue;
    if (meanBetween(wear, from, to) < limit) return { day, event: true };
    lastEvaluable = day;
  }
  return lastEvaluable === undefined ? undefined : { day: lastEvaluable, event: false };
}
