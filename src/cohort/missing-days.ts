import type { Plan } from '../plan/plan.ts';
import { expectedHours } from './adherence-days.ts';
import { type FootWear, NO_SOURCE, type PhaseSpell } from './cohort.ts';

/**
 * The wear of a foot under a rule for missing days, whichever rule it was read under: `missing` keeps the days with a
 * row, `not worn` gives every other adherence day 0 hours. A foot without a row on any adherence day has none either way.
 */
export function wearUnder(
  rule: Plan['adherence']['missingDays'],
  foot: { readonly wear: FootWear | undefined; readonly spells: readonly PhaseSpell[] },
  plan: Plan,
): FootWear | undefined {
  const { wear, spells } = foot;
  if (wear === undefined || wear.day.length === 0 || plan.adherence.missingDays === rule) return wear;
  return rule === 'missing' ? withoutFilledDays(wear) : withFilledDays(wear, spells, plan);
}

function withoutFilledDays(wear: FootWear): FootWear {
  const recorded = (_: number, place: number): boolean => wear.source[place] !== NO_SOURCE;
  return {
    ...wear,
    day: wear.day.filter(recorded),
    hours: wear.hours.filter(recorded),
    expected: wear.expected.filter(recorded),
    source: wear.source.filter(recorded),
  };
}

function withFilledDays(wear: FootWear, spells: readonly PhaseSpell[], plan: Plan): FootWear {
  const length = wear.lastDay - wear.firstDay + 1;
  const day = Int32Array.from({ length }, (_, place) => wear.firstDay + place);
  const hours = new Float64Array(length);
  const expected = new Float64Array(length);
  const source = new Uint8Array(length).fill(NO_SOURCE);
  for (const spell of spells) {
    const from = Math.max(spell.startDay, wear.firstDay) - wear.firstDay;
    const to = Math.min(spell.endDay, wear.lastDay) - wear.firstDay + 1;
    if (from < to) expected.fill(expectedHours(spell.prescribedHours, plan), from, to);
  }
  for (const [place, recorded] of wear.day.entries()) {
    hours[recorded - wear.firstDay] = wear.hours[place] as number;
    source[recorded - wear.firstDay] = wear.source[place] as number;
  }
  return { ...wear, day, hours, expected, source };
}
