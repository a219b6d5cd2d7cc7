import type { Cohort } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import type { Standard } from '../standard.ts';
import { checkupsOnHours, ruleInWords } from './checkup-on-hours.ts';

const HOURS = 12;

/** Spells of 12 prescribed hours with a checkup in the window after they began. */
export function checkupAt12Hours(cohort: Cohort, plan: Plan): Standard {
  const due = plan.audit.checkupAt12Hours;
  return {
    key: 'checkup-at-12-hours',
    title: '12-hour checkup on time',
    direction: 'at least',
    target: due.target,
    rule: ruleInWords(HOURS, due),
    items: checkupsOnHours(cohort, HOURS, due, plan),
  };
}
