import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { OfOneFoot } from '../tools/people.ts';
import { quarterAt, quarterOrdinal } from './quarter.ts';
import { isBlisterOrSore } from './standards/skin-review.ts';

/** Blisters and pressure sores of one quarter over the foot-weeks of therapy in it, in hundreds. */
export interface SkinQuarter {
  readonly events: number;
  readonly hundredFootWeeks: number;
  /** The feet with an event, once an event. */
  readonly feet: readonly OfOneFoot[];
}

const DAYS_IN_HUNDRED_WEEKS = 700;

/**
 * Blisters and pressure sores within therapy by quarter, and the days of therapy (last day included, day 0 excluded)
 * that fall in it.
 *
 * @returns by number of the quarter
 */
export function skinByQuarter(cohort: Cohort, plan: Plan): ReadonlyMap<number, SkinQuarter> {
  const { firstMonthOfYear } = plan.audit;
  const days = new Map<number, number>();
  const feet = new Map<number, OfOneFoot[]>();
  for (const foot of cohort.feet) {
    const end = foot.startDate + foot.lastDay;
    let from = foot.startDate + 1;
    while (from <= end) {
      const quarter = quarterAt(quarterOrdinal(from, firstMonthOfYear), firstMonthOfYear);
      const to = Math.min(end, quarter.lastDay);
      days.set(quarter.ordinal, (days.get(quarter.ordinal) ?? 0) + to - from + 1);
      from = to + 1;
    }
    for (const event of foot.events) {
      if (!isBlisterOrSore(event) || event.day < 0 || event.day > foot.lastDay) continue;
      const ordinal = quarterOrdinal(foot.startDate + event.day, firstMonthOfYear);
      const held = feet.get(ordinal);
      if (held === undefined) feet.set(ordinal, [foot]);
      else held.push(foot);
    }
  }
  return new Map(
    [...new Set([...days.keys(), ...feet.keys()])].map(ordinal => {
      const own = feet.get(ordinal) ?? [];
      return [
        ordinal,
        {
          events: own.length,
          hundredFootWeeks: (days.get(ordinal) ?? 0) / DAYS_IN_HUNDRED_WEEKS,
          feet: own,
        },
      ];
    }),
  );
}
