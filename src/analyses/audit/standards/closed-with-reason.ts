import type { Cohort, Foot } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import { quarterAt } from '../quarter.ts';
import { auditItem, type Standard } from '../standard.ts';

const DAYS_IN_WEEK = 7;

/**
 * Episodes that came of the age set in the plan in the quarter: ended with a reason by the end of the quarter (or the
 * cut-off, if that is sooner), or seen shortly before it. An end without a reason is refused when the export is read.
 */
export function closedWithReason(cohort: Cohort, plan: Plan): Standard {
  const { target, afterWeeks, seenWithinWeeks } = plan.audit.closedWithReason;
  const dueDay = afterWeeks * DAYS_IN_WEEK;
  return {
    key: 'closed-with-reason',
    title: 'Closed with a reason',
    direction: 'at least',
    target,
    rule: `Episodes that reached ${afterWeeks} weeks since first fitting in the quarter and, at its end, were closed with a reason or had been seen within the last ${seenWithinWeeks} weeks.`,
    items: cohort.feet
      .filter(foot => foot.startDate + dueDay <= cohort.cutOff)
      .map(foot => {
        const item = auditItem(foot, dueDay, false, plan);
        const { lastDay } = quarterAt(item.quarter, plan.audit.firstMonthOfYear);
        const judged = Math.min(lastDay, cohort.cutOff) - foot.startDate;
        return { ...item, met: closedOrSeen(foot, judged, seenWithinWeeks * DAYS_IN_WEEK) };
      }),
  };
}

/** @param judged day since first fitting on which the episode is looked at */
function closedOrSeen(foot: Foot, judged: number, seenWithinDays: number): boolean {
  if (foot.end !== 'in therapy' && foot.lastDay <= judged) return true;
  return foot.visits.some(visit => visit.day <= judged && visit.day >= judged - seenWithinDays);
}
