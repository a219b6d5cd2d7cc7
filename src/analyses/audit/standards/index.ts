import type { Cohort } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import type { Standard } from '../standard.ts';
import { baselineFindings } from './baseline-findings.ts';
import { baselinePhotograph } from './baseline-photograph.ts';
import { checkupAt12Hours } from './checkup-at-12-hours.ts';
import { checkupAt15Hours } from './checkup-at-15-hours.ts';
import { closedWithReason } from './closed-with-reason.ts';
import { firstCheckup } from './first-checkup.ts';
import { lostToFollowUp } from './lost-to-follow-up.ts';
import { noStepDownWhileWorse } from './no-step-down-while-worse.ts';
import { secondCheckup } from './second-checkup.ts';
import { skinReview } from './skin-review.ts';
import { teachBack } from './teach-back.ts';

/** Every standard of the audit, in the order of a course of therapy. */
export function auditStandards(cohort: Cohort, plan: Plan): readonly Standard[] {
  return [
    baselinePhotograph,
    baselineFindings,
    teachBack,
    firstCheckup,
    secondCheckup,
    checkupAt15Hours,
    checkupAt12Hours,
    skinReview,
    noStepDownWhileWorse,
    closedWithReason,
    lostToFollowUp,
  ].map(standard => standard(cohort, plan));
}
