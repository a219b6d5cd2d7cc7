import type { Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { OfOneFoot } from '../tools/people.ts';
import { quarterOrdinal } from './quarter.ts';

/** One foot, spell, event or step-down that a standard asks something of, in the quarter in which that fell due. */
export interface AuditItem extends OfOneFoot {
  readonly site: string;
  readonly clinician: string | undefined;
  /** Number of the quarter (see quarter.ts). */
  readonly quarter: number;
  /** What is asked was done. */
  readonly met: boolean;
}

/** A standard of the audit with everything that ever came under it. */
export interface Standard {
  readonly key: string;
  readonly title: string;
  /** `at least`: the share that met it must reach the target; `under`: the share that did not must stay below it. */
  readonly direction: 'at least' | 'under';
  readonly target: number;
  /** Who is counted and what is asked, in a sentence. */
  readonly rule: string;
  readonly items: readonly AuditItem[];
}

/** @param day since first fitting, on which what is asked fell due */
export function auditItem(foot: Foot, day: number, met: boolean, plan: Plan): AuditItem {
  return {
    episode: foot.episode,
    infant: foot.infant,
    site: foot.site,
    clinician: foot.clinician,
    quarter: quarterOrdinal(foot.startDate + day, plan.audit.firstMonthOfYear),
    met,
  };
}

/** Whether an item adds to the share that is shown: for a share that must stay under its target, one that failed. */
export function counts(standard: Pick<Standard, 'direction'>, item: AuditItem): boolean {
  return standard.direction === 'at least' ? item.met : !item.met;
}
