import type { Cohort } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import { auditItem, type Standard } from '../standard.ts';

/** Feet first fitted in the quarter whose parents put the brace on correctly themselves; not recorded counts as not done. */
export function teachBack(cohort: Cohort, plan: Plan): Standard {
  return {
    key: 'teach-back',
    title: 'Teach-back done',
    direction: 'at least',
    target: plan.audit.teachBack.target,
    rule: 'Feet first fitted in the quarter whose parents put the brace on correctly themselves before going home; not recorded counts as not done.',
    items: cohort.feet.map(foot => auditItem(foot, 0, foot.teachBack === true, plan)),
  };
}
