import { isCheckup } from '../../../cohort/correction.ts';
import type { Foot } from '../../../cohort/cohort.ts';

/** A checkup due on a day, give or take some days. */
export interface Due {
  readonly dueDay: number;
  readonly withinDays: number;
}

/** Whether the foot was seen, on therapy, on a day from `first` to `last` (both included, since first fitting). */
export function seenBetween(foot: Foot, first: number, last: number): boolean {
  return foot.visits.some(visit => visit.day >= first && visit.day <= last && isCheckup(visit, foot));
}

/** `11 to 17`, for rules in words. */
export function windowInWords({ dueDay, withinDays }: Due): string {
  return `${dueDay - withinDays} to ${dueDay + withinDays}`;
}
