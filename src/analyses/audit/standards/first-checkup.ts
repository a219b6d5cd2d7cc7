import type { Cohort } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import { auditItem, type AuditItem, type Standard } from '../standard.ts';
import { type Due, seenBetween, windowInWords } from './checkup-window.ts';

/** Feet still in therapy when the window of the first checkup closed, and seen in it. */
export function firstCheckup(cohort: Cohort, plan: Plan): Standard {
  const due = plan.audit.firstCheckup;
  return {
    key: 'first-checkup',
    title: 'First checkup on time',
    direction: 'at least',
    target: due.target,
    rule: `Feet still in therapy when the window closed, in the quarter, that were seen on days ${windowInWords(due)} since first fitting.`,
    items: checkupsOfEpisodes(cohort, due, plan),
  };
}

/** One item a foot that was in therapy to the last day of the window or longer. */
export function checkupsOfEpisodes(cohort: Cohort, due: Due, plan: Plan): readonly AuditItem[] {
  const opens = due.dueDay - due.withinDays;
  const closes = due.dueDay + due.withinDays;
  return cohort.feet
    .filter(foot => foot.lastDay >= closes)
    .map(foot => auditItem(foot, closes, seenBetween(foot, opens, closes), plan));
}
