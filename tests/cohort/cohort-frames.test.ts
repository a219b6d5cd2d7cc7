import { describe, expect, it } from 'vitest';
import { buildCohort } from '../../src/cohort/build-cohort.ts';
import { cohortFrames } from '../../src/cohort/cohort-frames.ts';
import { recordsFromRows } from '../../src/records/from-rows.ts';
import { planWith, PAST, rowsOf, START, TO } from './hand-made.ts';

const rows = rowsOf(
  [
    {
      id: 'b',
      end: [60, 'finished'],
      seen: [
        [0, 4, TO],
        [42, 2.5, PAST],
      ],
      phases: [
        [0, 24],
        [42, 12],
      ],
      worn: [
        [2, [23, undefined, 11.5], 'sensor'],
        [0, [5]],
      ],
    },
    { id: 'a' },
  ],
  100,
);
const cohort = buildCohort(
  recordsFromRows({
    ...rows,
    events: [
      { episode_id: 'b', date: START + 9, kind: 'blister', hours_off: 2, review_date: START + 11 },
      { episode_id: 'b', date: START + 3, kind: 'slight redness' },
    ],
  }),
  planWith({ adherence: { missingDays: 'not worn' } }),
);
const frames = cohortFrames(cohort);

describe('the cohort as data frames', () => {
  it('has one row a foot', () => {
    const [a, b] = frames.feet.objects();
    expect(a).toMatchObject({ episode_id: 'a', severity_band: 'not known', correction_by_day: undefined });
    expect(b).toMatchObject({
      episode_id: 'b',
      start_date: START,
      severity_band: 'moderate',
      last_day: 60,
      end_of_therapy: 'finished',
      correction_day: 42,
      correction_cause: 'corrected',
      correction_after_day: 0,
      correction_by_day: 42,
      lapsed: true,
      discontinued: true,
    });
    expect(frames.feet.numRows()).toBe(2);
  });

  it('has one row a step-down, visit, spell and event', () => {
    expect(frames.stepDowns.objects()).toMatchObject([
      {
        episode_id: 'b',
        step: '24 to 12',
        step_down_day: 42,
        days_at_risk: 18,
        relapse_cause: 'next step-down',
      },
      { episode_id: 'b', step: '12 to none', step_down_day: 60, days_at_risk: 0, relapse_cause: 'censored' },
    ]);
    expect(frames.visits.objects()).toMatchObject([
      { visit_day: 0, correction_state: 'uncorrected' },
      { visit_day: 42, correction_state: 'corrected' },
    ]);
    expect(frames.spells.objects()).toEqual([
      { episode_id: 'b', start_day: 0, end_day: 41, prescribed_hours: 24 },
      { episode_id: 'b', start_day: 42, end_day: 60, prescribed_hours: 12 },
    ]);
    expect(frames.skinEvents.objects()).toMatchObject([
      { event_day: 3, kind: 'slight redness' },
      { event_day: 9, kind: 'blister', hours_off: 2, review_day: 11 },
    ]);
  });

  it('has one row an adherence day, with its source', () => {
    // Days 2 to 59; day 3 has no row and counts as not worn.
    expect(frames.wearDays.numRows()).toBe(58);
    expect(frames.wearDays.objects({ limit: 3 })).toEqual([
      { episode_id: 'b', wear_day: 2, hours_worn: 23, expected_hours: 23, adherence: 1, source: 'sensor' },
      { episode_id: 'b', wear_day: 3, hours_worn: 0, expected_hours: 23, adherence: 0, source: 'no row' },
      {
        episode_id: 'b',
        wear_day: 4,
        hours_worn: 11.5,
        expected_hours: 23,
        adherence: 0.5,
        source: 'sensor',
      },
    ]);
  });

  it('names columns in the style of the dictionary', () => {
    for (const frame of Object.values(frames)) {
      for (const name of frame.columnNames()) expect(name).toMatch(/^[a-z]+(_[a-z]+)*$/u);
    }
  });

  it('keeps its columns for an empty cohort', () => {
    const empty = cohortFrames(buildCohort(recordsFromRows({ episodes: [] }), planWith()));
    for (const [name, frame] of Object.entries(frames)) {
      expect(empty[name as keyof typeof empty].columnNames()).toEqual(frame.columnNames());
    }
  });
});
