import type { Cohort, Foot } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import { auditItem, type AuditItem } from '../standard.ts';
import { type Due, seenBetween } from './checkup-window.ts';

/**
 * One item a spell of the given prescribed hours whose window has closed by the cut-off, in the quarter in which it
 * closed, with the window counted from the first day of the spell.
 *
 * A spell that a step-down, a return to longer hours or finishing ended inside the window counts, since the checkup at
 * which that is decided is the one asked for: to count only spells still in force when the window closes would leave
 * out nearly every checkup that took place on time. A spell that ended before the window opened, or whose foot left
 * therapy (referred, withdrawn, moved away, lost) before it closed, does not count.
 */
export function checkupsOnHours(cohort: Cohort, hours: number, due: Due, plan: Plan): readonly AuditItem[] {
  return cohort.feet.flatMap(foot =>
    foot.spells.flatMap((spell, place): readonly AuditItem[] => {
      if (spell.prescribedHours !== hours) return [];
      const opens = spell.startDay + due.dueDay - due.withinDays;
      const closes = spell.startDay + due.dueDay + due.withinDays;
      if (foot.startDate + closes > cohort.cutOff || !fellDue(foot, place, opens, closes)) return [];
      return [auditItem(foot, closes, seenBetween(foot, opens, closes), plan)];
    }),
  );
}

function fellDue(foot: Foot, place: number, opens: number, closes: number): boolean {
  const next = foot.spells[place + 1];
  if (next !== undefined) return next.startDay >= opens;
  return foot.lastDay >= (foot.end === 'finished' ? opens : closes);
}

export function ruleInWords(hours: number, due: Due): string {
  return `Spells of ${hours} prescribed hours that a change of hours or finishing did not end before the window opened, of feet that had not left therapy before it closed, in the quarter; seen ${due.dueDay - due.withinDays} to ${due.dueDay + due.withinDays} days after the spell began.`;
}
