import type { PhaseSpell } from './cohort.ts';
import type { Therapy } from './therapy.ts';

/** A change to fewer prescribed hours; `toHours` 0 is the end of therapy by finishing. */
export interface HoursChange {
  readonly day: number;
  readonly fromHours: number;
  readonly toHours: number;
  /** Days from the start of the spell before to the change. */
  readonly daysInPhaseBefore: number;
}

/** Step-downs of one foot by day. A therapy that finishes with no phase on record has none: its hours are not known. */
export function stepDownChanges(spells: readonly PhaseSpell[], therapy: Therapy): readonly HoursChange[] {
  const changes = changesBetween(spells).filter(change => change.toHours < change.fromHours);
  const last = spells.at(-1);
  if (therapy.end !== 'finished' || last === undefined) return changes;
  const finish = {
    day: therapy.lastDay,
    fromHours: last.prescribedHours,
    toHours: 0,
    daysInPhaseBefore: therapy.lastDay - last.startDay,
  };
  return [...changes, finish];
}

/** First days of the spells with more prescribed hours than the one before. */
export function returnDays(spells: readonly PhaseSpell[]): readonly number[] {
  return changesBetween(spells)
    .filter(change => change.toHours > change.fromHours)
    .map(change => change.day);
}

function changesBetween(spells: readonly PhaseSpell[]): readonly HoursChange[] {
  return spells.slice(1).map((spell, place) => {
    const before = spells[place] ?? spell;
    return {
      day: spell.startDay,
      fromHours: before.prescribedHours,
      toHours: spell.prescribedHours,
      daysInPhaseBefore: spell.startDay - before.startDay,
    };
  });
}
