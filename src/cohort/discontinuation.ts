import type { Plan } from '../plan/plan.ts';
import type { Foot, FollowUp, FootWear, PhaseSpell } from './cohort.ts';
import type { Therapy } from './therapy.ts';
import { firstPlaceFrom } from './wear-measures.ts';

/**
 * Time to discontinuation in days since first fitting: the day that completes the plan's run of adherence days in a row
 * with 0 hours worn, or the last day of therapy if the family withdrew, whichever is first; else censored on the last
 * day of therapy. Undefined without wear data on any adherence day.
 */
export function discontinuation(
  wear: FootWear | undefined,
  therapy: Therapy,
  plan: Plan,
): FollowUp | undefined {
  if (wear === undefined || wear.day.length === 0) return undefined;
  const day = runNotWorn(wear, 0, wear.day.length, plan.discontinuation.daysNotWorn);
  if (day !== undefined) return { day, event: true };
  return { day: therapy.lastDay, event: therapy.end === 'withdrawn' };
}

/**
 * Time to discontinuation within one phase, in days since the start of the spell. Runs lie within the spell; withdrawal
 * counts in the spell in which therapy ended; else censored on the last day of the spell. Undefined without wear data on
 * any adherence day of the spell.
 */
export function discontinuationInSpell(
  foot: Pick<Foot, 'wear' | 'lastDay' | 'end'>,
  spell: PhaseSpell,
  plan: Plan,
): FollowUp | undefined {
  const { wear } = foot;
  if (wear === undefined) return undefined;
  const from = firstPlaceFrom(wear, spell.startDay);
  const to = firstPlaceFrom(wear, spell.endDay + 1);
  if (from === to) return undefined;
  const day = runNotWorn(wear, from, to, plan.discontinuation.daysNotWorn);
  if (day !== undefined) return { day: day - spell.startDay, event: true };
  return {
    day: spell.endDay - spell.startDay,
    event: foot.end === 'withdrawn' && spell.endDay === foot.lastDay,
  };
}

/** The day that completes the first run of so many days in a row with 0 hours; a day without data breaks a run. */
function runNotWorn(wear: FootWear, from: number, to: number, runLength: number): number | undefined {
  let run = 0;
  let previous = Number.NaN;
  for (let i = from; i < to; i++) {
    const day = wear.day[i] as number;
    if (wear.hours[i] !== 0) run = 0;
    else run = day === previous + 1 ? run + 1 : 1;
    if (run === runLength) return day;
    previous = day;
  }
  return undefined;
}
