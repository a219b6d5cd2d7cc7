import type { AuditItem } from '../../../src/analyses/audit/index.ts';
import { auditStandards, quarterAt } from '../../../src/analyses/audit/index.ts';
import { buildCohort } from '../../../src/cohort/build-cohort.ts';
import type { Cohort } from '../../../src/cohort/cohort.ts';
import type { EndReason, Plan } from '../../../src/plan/plan.ts';
import { planSchema } from '../../../src/plan/plan.ts';
import { daysFromIsoDate } from '../../../src/records/calendar-date.ts';
import { recordsFromRows } from '../../../src/records/from-rows.ts';
import type { EpisodeRow, EventRow } from '../../../src/records/rows.ts';

/** A foot in shorthand: dates in ISO form, days since first fitting. */
export interface AuditFoot {
  readonly id: string;
  readonly start: string;
  readonly infant?: string;
  readonly site?: string;
  readonly clinician?: string;
  readonly episode?: Partial<EpisodeRow>;
  readonly end?: readonly [number, EndReason];
  /** Day and bisector position of the assessments after the baseline. */
  readonly seen?: readonly (readonly [number, number?])[];
  /** Baseline findings: position, flexibility recorded, crease recorded; none without. */
  readonly baseline?: readonly [number | undefined, boolean, boolean];
  readonly phases?: readonly (readonly [number, number])[];
  readonly events?: readonly (readonly [number, EventRow['kind'], number?])[];
}

export function dayOf(iso: string): number {
  const day = daysFromIsoDate(iso);
  if (day === undefined) throw new Error(`${iso} is no date`);
  return day;
}

export function planWith(audit: object = {}, fields: object = {}): Plan {
  return planSchema.parse({ audit, ...fields });
}

export function cohortOf(feet: readonly AuditFoot[], cutOff: string, plan: Plan = planWith()): Cohort {
  const rows = {
    cutOff: dayOf(cutOff),
    episodes: feet.map(foot => ({
      episode_id: foot.id,
      infant_id: foot.infant ?? `infant-of-${foot.id}`,
      site_id: foot.site ?? 'north',
      clinician_id: foot.clinician,
      foot: 'left' as const,
      age_at_start_days: 60,
      start_date: dayOf(foot.start),
      end_date: foot.end && dayOf(foot.start) + foot.end[0],
      end_reason: foot.end?.[1],
      ...foot.episode,
    })),
    assessments: feet.flatMap(foot => [
      ...(foot.baseline === undefined
        ? []
        : [
            {
              episode_id: foot.id,
              date: dayOf(foot.start),
              kind: 'baseline' as const,
              bisector_position: foot.baseline[0],
              flexibility: foot.baseline[1] ? ('to straight' as const) : undefined,
              medial_crease: foot.baseline[2] ? false : undefined,
            },
          ]),
      ...(foot.seen ?? []).map(([day, position]) => ({
        episode_id: foot.id,
        date: dayOf(foot.start) + day,
        kind: 'checkup' as const,
        bisector_position: position,
      })),
    ]),
    phases: feet.flatMap(foot =>
      (foot.phases ?? []).map(([day, hours]) => ({
        episode_id: foot.id,
        start_date: dayOf(foot.start) + day,
        prescribed_hours: hours,
      })),
    ),
    events: feet.flatMap(foot =>
      (foot.events ?? []).map(([day, kind, review]) => ({
        episode_id: foot.id,
        date: dayOf(foot.start) + day,
        kind,
        review_date: review === undefined ? undefined : dayOf(foot.start) + review,
      })),
    ),
  };
  return buildCohort(recordsFromRows(Object.freeze(rows)), plan);
}

/** What came under a standard: episode, name of the quarter, met. */
export function itemsUnder(
  key: string,
  cohort: Cohort,
  plan: Plan = planWith(),
): readonly (readonly [string, string, boolean])[] {
  const standard = auditStandards(cohort, plan).find(candidate => candidate.key === key);
  if (standard === undefined) throw new Error(`no standard ${key}`);
  return standard.items.map((item: AuditItem) => [
    item.episode,
    quarterAt(item.quarter, plan.audit.firstMonthOfYear).name,
    item.met,
  ]);
}
