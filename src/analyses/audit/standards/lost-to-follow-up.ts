import type { Cohort } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import { auditItem, type Standard } from '../standard.ts';

/** Episodes that ended in the quarter; the share that was lost to follow-up must stay under the target. */
export function lostToFollowUp(cohort: Cohort, plan: Plan): Standard {
  return {
    key: 'lost-to-follow-up',
    title: 'Lost to follow-up',
    direction: 'under',
    target: plan.audit.lostToFollowUp.below,
    rule: 'Episodes that ended in the quarter; counted are those that ended as lost to follow-up, and few are wanted.',
    items: cohort.feet
      .filter(foot => foot.end !== 'in therapy')
      .map(foot => auditItem(foot, foot.lastDay, foot.end !== 'lost to follow-up', plan)),
  };
}
