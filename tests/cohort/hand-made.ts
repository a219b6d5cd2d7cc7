import { buildCohort } from '../../src/cohort/build-cohort.ts';
import type { Cohort, Flexibility, Foot, StepDown } from '../../src/cohort/cohort.ts';
import type { EndReason, Plan } from '../../src/plan/plan.ts';
import { planSchema } from '../../src/plan/plan.ts';
import type { GivenRows } from '../../src/records/from-rows.ts';
import { recordsFromRows } from '../../src/records/from-rows.ts';
import type { AssessmentRow, EventRow } from '../../src/records/rows.ts';

/** Day 0 of every hand-made foot: 2024-10-04. */
export const START = 20_000;
export const PAST = 'past straight';
export const TO = 'to straight';
export const SHORT = 'short of straight';

export interface SeenOptions {
  readonly kind?: AssessmentRow['kind'];
  readonly by?: string;
  readonly crease?: boolean;
}
/** Day, bisector position, flexibility, and what else stands in the row; a baseline row on day 0 unless said otherwise. */
export type Seen = readonly [number, number | undefined, Flexibility | undefined, SeenOptions?];

/** A foot in shorthand; all days are since first fitting. */
export interface HandMadeFoot {
  readonly id: string;
  readonly infant?: string;
  readonly side?: 'left' | 'right';
  readonly clinician?: string;
  /** Day and reason of the end of therapy; without it, in therapy at the cut-off. */
  readonly end?: readonly [number, EndReason];
  readonly seen?: readonly Seen[];
  /** First day and prescribed hours, and the end where it is recorded. */
  readonly phases?: readonly (readonly [number, number, number?])[];
  /** First day, hours of the days from it (undefined: no row), source (diary). */
  readonly worn?: readonly (readonly [
    number,
    readonly (number | undefined)[],
    ('sensor' | 'diary' | 'recall')?,
  ])[];
  /** Day and kind of an event, the day of its review, and its cause. */
  readonly events?: readonly (readonly [
    number,
    EventRow['kind'],
    { readonly reviewed?: number; readonly cause?: EventRow['cause'] }?,
  ])[];
  readonly ankleOpened?: boolean;
  readonly toeRelieved?: boolean;
}

/** The rows of hand-made feet, frozen, so that a change to an input throws. */
export function rowsOf(feet: readonly HandMadeFoot[], cutOffDay: number): GivenRows {
  return deepFreeze({
    cutOff: START + cutOffDay,
    episodes: feet.map(foot => ({
      episode_id: foot.id,
      infant_id: foot.infant ?? `infant-of-${foot.id}`,
      site_id: 'north',
      clinician_id: foot.clinician,
      foot: foot.side ?? 'left',
      age_at_start_days: 60,
      start_date: START,
      end_date: foot.end && START + foot.end[0],
      end_reason: foot.end?.[1],
      ankle_opened: foot.ankleOpened,
      toe_relieved: foot.toeRelieved,
    })),
    assessments: feet.flatMap(foot =>
      (foot.seen ?? []).map(([day, position, flexibility, options]) => ({
        episode_id: foot.id,
        date: START + day,
        assessor_id: options?.by,
        kind: options?.kind ?? (day === 0 ? ('baseline' as const) : ('checkup' as const)),
        bisector_position: position,
        flexibility,
        medial_crease: options?.crease ?? (day === 0 ? false : undefined),
      })),
    ),
    phases: feet.flatMap(foot =>
      (foot.phases ?? []).map(([day, hours, end]) => ({
        episode_id: foot.id,
        start_date: START + day,
        end_date: end === undefined ? undefined : START + end,
        prescribed_hours: hours,
      })),
    ),
    wear: feet.flatMap(foot =>
      (foot.worn ?? []).flatMap(([first, hours, source]) =>
        hours.flatMap((worn, offset) =>
          worn === undefined
            ? []
            : [
                {
                  episode_id: foot.id,
                  date: START + first + offset,
                  source: source ?? ('diary' as const),
                  hours_worn: worn,
                },
              ],
        ),
      ),
    ),
    events: feet.flatMap(foot =>
      (foot.events ?? []).map(([day, kind, more]) => ({
        episode_id: foot.id,
        date: START + day,
        kind,
        review_date: more?.reviewed === undefined ? undefined : START + more.reviewed,
        cause: more?.cause,
      })),
    ),
  });
}

/** A plan with some fields set and every other at its default. */
export function planWith(fields: object = {}): Plan {
  return planSchema.parse(fields);
}

export function cohortOf(feet: readonly HandMadeFoot[], cutOffDay: number, fields: object = {}): Cohort {
  return buildCohort(recordsFromRows(rowsOf(feet, cutOffDay)), planWith(fields));
}

export function footNamed(cohort: Cohort, id: string): Foot {
  const foot = cohort.feet.find(({ episode }) => episode === id);
  if (foot === undefined) throw new Error(`no foot ${id}`);
  return foot;
}

export function stepDownsNamed(cohort: Cohort, id: string): readonly StepDown[] {
  return cohort.stepDowns.filter(({ episode }) => episode === id);
}

/** So many days with the same hours. */
export function days(count: number, hours: number | undefined): readonly (number | undefined)[] {
  return Array.from({ length: count }, () => hours);
}

function deepFreeze<T extends object>(value: T): T {
  for (const part of Object.values(value) as readonly unknown[]) {
    if (typeof part === 'object' && part !== null) deepFreeze(part);
  }
  return Object.freeze(value);
}
