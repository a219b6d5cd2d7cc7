import type { PhaseRow } from '../records/rows.ts';
import type { PhaseSpell } from './cohort.ts';

/**
 * Phase spells of one foot by day since first fitting, without gaps: each is in force until the next one starts, the
 * last one to the last day of therapy. A spell that starts after the therapy is left out, days before first fitting are
 * cut off, and neighbours with the same hours are one spell.
 *
 * @param rows of one foot, in any order, no two with the same start
 */
export function phaseSpells(
  rows: readonly PhaseRow[],
  startDate: number,
  lastDay: number,
): readonly PhaseSpell[] {
  const ordered = [...rows].sort((a, b) => a.start_date - b.start_date);
  const spells: PhaseSpell[] = [];
  for (const [place, row] of ordered.entries()) {
    const next = ordered[place + 1];
    const startDay = Math.max(0, row.start_date - startDate);
    const endDay = next === undefined ? lastDay : Math.min(lastDay, next.start_date - startDate - 1);
    if (endDay < startDay) continue;
    const before = spells.at(-1);
    if (before?.prescribedHours === row.prescribed_hours) spells[spells.length - 1] = { ...before, endDay };
    else spells.push({ startDay, endDay, prescribedHours: row.prescribed_hours });
  }
  return spells;
}

/** The spell in force on a day, or undefined before the first one and after the therapy. */
export function spellOn(spells: readonly PhaseSpell[], day: number): PhaseSpell | undefined {
  return spells.find(spell => spell.startDay <= day && day <= spell.endDay);
}
