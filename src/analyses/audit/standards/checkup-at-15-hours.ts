import type { Cohort } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import type { Standard } from '../standard.ts';
import { checkupsOnHours, ruleInWords } from './checkup-on-hours.ts';

const HOURS = 15;

/** Spells of 15 prescribed hours with a checkup in the window after they began. */
export function checkupAt15Hours(cohort: Cohort, plan: Plan): Standard {
  const due = plan.audit.checkupAt15Hours;
  return {
    key: 'checkup-at-15-hours',
    title: '15-hour checkup on time',
    direction: 'at least',
    target: due.target,
    rule: ruleInWords(HOURS, due),
    items: checkupsOnHours(cohort, HOURS, due, plan),
  };
}
