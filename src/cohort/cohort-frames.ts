import type { ColumnTable } from 'arquero';
import { table } from 'arquero';
import { codedColumn } from '../records/coded-column.ts';
import { WEAR_SOURCES } from '../records/rows.ts';
import type { Cohort, Foot } from './cohort.ts';
import { CORRECTION_CAUSES, NO_SOURCE, RELAPSE_CAUSES } from './cohort.ts';
import { dailyAdherence } from './wear-measures.ts';

/** The cohort as data frames; the columns are described at each function that makes one. */
export interface CohortFrames {
  readonly feet: ColumnTable;
  readonly stepDowns: ColumnTable;
  readonly visits: ColumnTable;
  readonly spells: ColumnTable;
  readonly wearDays: ColumnTable;
  readonly skinEvents: ColumnTable;
}

/**
 * The cohort as Arquero tables, for notebooks and other tools. Columns named as in the data dictionary mean the same;
 * `..._day` is days since first fitting, a date is days since 1970-01-01, a missing value is undefined, and tables other
 * than `feet` carry `episode_id` to join by.
 */
export function cohortFrames(cohort: Cohort): CohortFrames {
  return {
    feet: feetFrame(cohort.feet),
    stepDowns: stepDownsFrame(cohort),
    visits: visitsFrame(cohort.feet),
    spells: spellsFrame(cohort.feet),
    wearDays: wearDaysFrame(cohort.feet),
    skinEvents: skinEventsFrame(cohort.feet),
  };
}

/**
 * One row a foot. Besides the fields of the episode: `bilateral`; the baseline (`baseline_day`, the findings, both
 * grades, `severity_band`); `last_day` and `end_of_therapy`; `correction_day`, `correction_cause` and the interval
 * (`correction_after_day`, `correction_by_day`, the latter undefined when never seen corrected); `days_with_wear`
 * (adherence days with data); `lapse_day`, `lapsed`, `discontinuation_day`, `discontinued`.
 */
function feetFrame(feet: readonly Foot[]): ColumnTable {
  return frame(feet, {
    episode_id: foot => foot.episode,
    infant_id: foot => foot.infant,
    site_id: foot => foot.site,
    clinician_id: foot => foot.clinician,
    foot: foot => foot.side,
    sex: foot => foot.sex,
    age_at_start_days: foot => foot.ageAtStartDays,
    gestational_weeks: foot => foot.gestationalWeeks,
    bilateral: foot => foot.bilateral,
    referral_date: foot => foot.referralDate,
    start_date: foot => foot.startDate,
    teach_back: foot => foot.teachBack,
    baseline_photo: foot => foot.baselinePhoto,
    ankle_opened: foot => foot.ankleOpened,
    toe_relieved: foot => foot.toeRelieved,
    baseline_day: foot => foot.baseline.day,
    bisector_position: foot => foot.baseline.bisectorPosition,
    bisector_angle_degrees: foot => foot.baseline.bisectorAngleDegrees,
    flexibility: foot => foot.baseline.flexibility,
    medial_crease: foot => foot.baseline.medialCrease,
    bisector_grade: foot => foot.baseline.bisectorGrade,
    flexibility_grade: foot => foot.baseline.flexibilityGrade,
    severity_band: foot => foot.band,
    last_day: foot => foot.lastDay,
    end_of_therapy: foot => foot.end,
    correction_day: foot => foot.correction.day,
    correction_cause: foot => CORRECTION_CAUSES[foot.correction.cause],
    correction_after_day: foot => foot.correction.interval.lower,
    correction_by_day: foot => (foot.correction.cause === 1 ? foot.correction.interval.upper : undefined),
    days_with_wear: foot => foot.wear?.day.length ?? 0,
    lapse_day: foot => foot.lapse?.day,
    lapsed: foot => foot.lapse?.event,
    discontinuation_day: foot => foot.discontinuation?.day,
    discontinued: foot => foot.discontinuation?.event,
  });
}

/** One row a step-down, with the follow-up after it: `days_at_risk`, `relapse_cause`, `relapse_sign`. */
function stepDownsFrame(cohort: Cohort): ColumnTable {
  return frame(cohort.stepDowns, {
    episode_id: stepDown => stepDown.episode,
    infant_id: stepDown => stepDown.infant,
    site_id: stepDown => stepDown.site,
    severity_band: stepDown => stepDown.band,
    step_down_day: stepDown => stepDown.day,
    step: stepDown => stepDown.step,
    from_hours: stepDown => stepDown.fromHours,
    to_hours: stepDown => stepDown.toHours,
    ordinal: stepDown => stepDown.ordinal,
    days_in_phase_before: stepDown => stepDown.daysInPhaseBefore,
    reference_position: stepDown => stepDown.referencePosition,
    days_at_risk: stepDown => stepDown.daysAtRisk,
    relapse_cause: stepDown => RELAPSE_CAUSES[stepDown.cause],
    relapse_sign: stepDown => stepDown.sign,
  });
}

/** One row an assessment that counts (one a day); `correction_state` is corrected, uncorrected or not evaluable. */
function visitsFrame(feet: readonly Foot[]): ColumnTable {
  return frame(
    feet.flatMap(foot => foot.visits.map(visit => ({ foot, visit }))),
    {
      episode_id: ({ foot }) => foot.episode,
      visit_day: ({ visit }) => visit.day,
      assessor_id: ({ visit }) => visit.assessor,
      kind: ({ visit }) => visit.kind,
      bisector_position: ({ visit }) => visit.bisectorPosition,
      flexibility: ({ visit }) => visit.flexibility,
      medial_crease: ({ visit }) => visit.medialCrease,
      decision: ({ visit }) => visit.decision,
      correction_state: ({ visit }) => visit.state,
    },
  );
}

/** One row a phase spell, both days included. */
function spellsFrame(feet: readonly Foot[]): ColumnTable {
  return frame(
    feet.flatMap(foot => foot.spells.map(spell => ({ foot, spell }))),
    {
      episode_id: ({ foot }) => foot.episode,
      start_day: ({ spell }) => spell.startDay,
      end_day: ({ spell }) => spell.endDay,
      prescribed_hours: ({ spell }) => spell.prescribedHours,
    },
  );
}

/** One row an event of skin or brace. */
function skinEventsFrame(feet: readonly Foot[]): ColumnTable {
  return frame(
    feet.flatMap(foot => foot.events.map(event => ({ foot, event }))),
    {
      episode_id: ({ foot }) => foot.episode,
      event_day: ({ event }) => event.day,
      kind: ({ event }) => event.kind,
      hours_off: ({ event }) => event.hoursOff,
      review_day: ({ event }) => event.reviewDay,
      cause: ({ event }) => event.cause,
    },
  );
}

/**
 * One row an adherence day with data, in typed columns: `wear_day`, `hours_worn`, `expected_hours`, `adherence` (their
 * ratio), `source` (`no row` for a missing day that the plan counts as not worn).
 */
function wearDaysFrame(feet: readonly Foot[]): ColumnTable {
  const rows = feet.reduce((sum, foot) => sum + (foot.wear?.day.length ?? 0), 0);
  const episode = new Int32Array(rows);
  const day = new Int32Array(rows);
  const hours = new Float64Array(rows);
  const expected = new Float64Array(rows);
  const adherence = new Float64Array(rows);
  const source = new Uint8Array(rows);
  let at = 0;
  for (const [place, { wear }] of feet.entries()) {
    if (wear === undefined) continue;
    episode.fill(place, at, at + wear.day.length);
    day.set(wear.day, at);
    hours.set(wear.hours, at);
    expected.set(wear.expected, at);
    adherence.set(dailyAdherence(wear), at);
    source.set(
      wear.source.map(code => (code === NO_SOURCE ? WEAR_SOURCES.length : code)),
      at,
    );
    at += wear.day.length;
  }
  return table({
    episode_id: codedColumn(
      episode,
      feet.map(foot => foot.episode),
    ),
    wear_day: day,
    hours_worn: hours,
    expected_hours: expected,
    adherence,
    source: codedColumn(source, [...WEAR_SOURCES, 'no row']),
  });
}

function frame<Row>(
  rows: readonly Row[],
  columns: Readonly<Record<string, (row: Row) => unknown>>,
): ColumnTable {
  return table(Object.entries(columns).map(([name, value]) => [name, rows.map(row => value(row))]));
}
