import type { Cohort, SkinEvent } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import { auditItem, type Standard } from '../standard.ts';

/** Blisters and pressure sores of the quarter, within therapy, that a clinician saw in time, once that time has passed. */
export function skinReview(cohort: Cohort, plan: Plan): Standard {
  const { target, withinDays } = plan.audit.skinReview;
  return {
    key: 'skin-review',
    title: 'Blister or sore reviewed in time',
    direction: 'at least',
    target,
    rule: `Blisters and pressure sores of the quarter whose ${withinDays} days have passed, reviewed within ${withinDays} days.`,
    items: cohort.feet.flatMap(foot =>
      foot.events
        .filter(
          event =>
            isBlisterOrSore(event) &&
            event.day >= 0 &&
            event.day <= foot.lastDay &&
            foot.startDate + event.day + withinDays <= cohort.cutOff,
        )
        .map(event => auditItem(foot, event.day, reviewedWithin(event, withinDays), plan)),
    ),
  };
}

export function isBlisterOrSore({ kind }: SkinEvent): boolean {
  return kind === 'blister' || kind === 'pressure sore';
}

function reviewedWithin({ day, reviewDay }: SkinEvent, days: number): boolean {
  return reviewDay !== undefined && reviewDay >= day && reviewDay - day <= days;
}
