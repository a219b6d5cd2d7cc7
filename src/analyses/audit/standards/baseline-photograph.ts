import type { Cohort } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import { auditItem, type Standard } from '../standard.ts';

/** Feet first fitted in the quarter that were photographed; not recorded counts as not taken. */
export function baselinePhotograph(cohort: Cohort, plan: Plan): Standard {
  return {
    key: 'baseline-photograph',
    title: 'Baseline photograph taken',
    direction: 'at least',
    target: plan.audit.baselinePhoto.target,
    rule: 'Feet first fitted in the quarter that were photographed at baseline; not recorded counts as not taken.',
    items: cohort.feet.map(foot => auditItem(foot, 0, foot.baselinePhoto === true, plan)),
  };
}
