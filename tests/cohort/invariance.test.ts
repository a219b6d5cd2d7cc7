import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildCohort } from '../../src/cohort/build-cohort.ts';
import type { Cohort } from '../../src/cohort/cohort.ts';
import { END_REASONS } from '../../src/plan/plan.ts';
import type { GivenRows } from '../../src/records/from-rows.ts';
import { recordsFromRows } from '../../src/records/from-rows.ts';
import { WEAR_SOURCES } from '../../src/records/rows.ts';
import { PAST, planWith, SHORT, START, TO } from './hand-made.ts';

const CUT_OFF = 60;
const EPISODES = ['k', 'b', 'X', 'c-1', 'b.2'];
const maybe = <T>(values: readonly T[]) => fc.constantFrom(undefined, ...values);
const onEpisode = fc.constantFrom(...EPISODES);
const dateFrom = (first: number) => fc.integer({ min: START + first, max: START + CUT_OFF });

const episodes = fc.tuple(
  ...EPISODES.map((episode_id, place) =>
    fc.record({
      episode_id: fc.constant(episode_id),
      infant_id: fc.constantFrom('1', '2', '3'),
      site_id: fc.constant('north'),
      clinician_id: maybe(['m', 'n']),
      foot: fc.constant(place % 2 === 0 ? ('left' as const) : ('right' as const)),
      age_at_start_days: fc.integer({ min: 0, max: 400 }),
      start_date: fc.constant(START),
      ending: maybe(END_REASONS),
      end_date: dateFrom(1),
    }),
  ),
);

/** An export of five feet with keys unique in every table, as the checks of a load ensure. */
const exported: fc.Arbitrary<GivenRows> = fc
  .record({
    episodes,
    assessments: fc.uniqueArray(
      fc.record({
        episode_id: onEpisode,
        date: dateFrom(-5),
        assessor_id: maybe(['m', 'n', 'z']),
        kind: fc.constantFrom('baseline' as const, 'checkup' as const, 'follow-up' as const),
        bisector_position: maybe([2, 2.5, 3, 3.5, 4, 4.5, 5]),
        flexibility: maybe([PAST, TO, SHORT] as const),
        medial_crease: maybe([true, false]),
      }),
      { maxLength: 40, selector: row => `${row.episode_id} ${row.date} ${row.assessor_id ?? ''}` },
    ),
    phases: fc.uniqueArray(
      fc.record({
        episode_id: onEpisode,
        start_date: dateFrom(0),
        prescribed_hours: fc.constantFrom(24, 15, 12),
      }),
      { maxLength: 20, selector: row => `${row.episode_id} ${row.start_date}` },
    ),
    wear: fc.uniqueArray(
      fc.record({
        episode_id: onEpisode,
        date: dateFrom(0),
        source: fc.constantFrom(...WEAR_SOURCES),
        hours_worn: fc.constantFrom(0, 0, 9.6, 12, 23),
      }),
      { maxLength: 200, selector: row => `${row.episode_id} ${row.date} ${row.source}` },
    ),
    events: fc.uniqueArray(
      fc.record({
        episode_id: onEpisode,
        date: dateFrom(0),
        kind: fc.constantFrom('blister' as const, 'slight redness' as const),
      }),
      { maxLength: 10, selector: row => `${row.episode_id} ${row.date} ${row.kind}` },
    ),
  })
  .map(({ episodes, ...tables }) => ({
    ...tables,
    cutOff: START + CUT_OFF,
    episodes: episodes.map(({ ending, end_date, ...row }) =>
      ending === undefined ? row : { ...row, end_date, end_reason: ending },
    ),
  }));

const plan = fc
  .record({
    severity: fc.record({ scheme: fc.constantFrom('toe', 'web') }),
    feet: fc.record({ use: fc.constantFrom('all', 'one per infant') }),
    correction: fc.record({ confirmedAtNextCheckup: fc.boolean() }),
    relapse: fc.record({
      longerHoursCount: fc.boolean(),
      nextStepDown: fc.constantFrom('competing', 'censored'),
    }),
    adherence: fc.record({ missingDays: fc.constantFrom('missing', 'not worn') }),
  })
  .map(fields => planWith(fields));

const OPTIONS = { seed: 20_260_101, numRuns: 150 };

describe('the cohort', () => {
  it('does not depend on the order of rows in any table', () => {
    const shuffled = exported.chain(rows =>
      fc.record({
        rows: fc.constant(rows),
        moved: fc.record({
          episodes: permuted(rows.episodes),
          assessments: permuted(rows.assessments ?? []),
          phases: permuted(rows.phases ?? []),
          wear: permuted(rows.wear ?? []),
          events: permuted(rows.events ?? []),
          cutOff: fc.constant(START + CUT_OFF),
        }),
      }),
    );
    fc.assert(
      fc.property(shuffled, plan, ({ rows, moved }, plan) => {
        expect(buildCohort(recordsFromRows(moved), plan)).toEqual(buildCohort(recordsFromRows(rows), plan));
      }),
      OPTIONS,
    );
  });

  it('changes nothing but dates when every date moves by the same number of days', () => {
    fc.assert(
      fc.property(exported, plan, fc.integer({ min: -4000, max: 4000 }), (rows, plan, by) => {
        const moved = buildCohort(recordsFromRows(shift(rows, by)), plan);
        expect(moved).toEqual(shiftCohort(buildCohort(recordsFromRows(rows), plan), by));
      }),
      OPTIONS,
    );
  });

  it('keeps every outcome within its bounds, every foot in the flow once', () => {
    fc.assert(
      fc.property(exported, plan, (rows, plan) => {
        const cohort = buildCohort(recordsFromRows(rows), plan);
        for (const foot of cohort.feet) {
          const { day, interval, cause } = foot.correction;
          expect(interval.lower).toBeLessThan(interval.upper);
          expect(interval.lower).toBeGreaterThanOrEqual(0);
          expect(day).toBeLessThanOrEqual(foot.lastDay);
          expect(interval.upper).toBe(cause === 1 ? day : Number.POSITIVE_INFINITY);
          expect(foot.lapse?.day ?? 0).toBeLessThanOrEqual(foot.lastDay);
          expect(foot.discontinuation?.day ?? 0).toBeLessThanOrEqual(foot.lastDay);
        }
        for (const stepDown of cohort.stepDowns) {
          expect(stepDown.toHours).toBeLessThan(stepDown.fromHours);
          expect(stepDown.daysAtRisk).toBeGreaterThanOrEqual(0);
          expect(stepDown.sign === undefined).toBe(stepDown.cause !== 1);
        }
        const feet = (key: string) =>
          cohort.flow
            .filter(step => step.key === key || step.key.startsWith(`${key}.`))
            .reduce((sum, step) => sum + step.counted.feet, 0);
        for (const question of ['correction', 'relapse', 'lapse', 'discontinuation', 'duration', 'skin']) {
          expect(feet(question)).toBe(cohort.feet.length);
        }
      }),
      OPTIONS,
    );
  });
});

function permuted<T>(rows: readonly T[]): fc.Arbitrary<T[]> {
  return fc.shuffledSubarray([...rows], { minLength: rows.length, maxLength: rows.length });
}

function shift(rows: GivenRows, by: number): GivenRows {
  const dated = <Row extends { readonly date: number }>(table: readonly Row[] = []) =>
    table.map(row => ({ ...row, date: row.date + by }));
  return {
    cutOff: START + CUT_OFF + by,
    episodes: rows.episodes.map(row => ({
      ...row,
      start_date: row.start_date + by,
      end_date: row.end_date === undefined ? undefined : row.end_date + by,
    })),
    assessments: dated(rows.assessments),
    phases: (rows.phases ?? []).map(row => ({ ...row, start_date: row.start_date + by })),
    wear: dated(rows.wear),
    events: dated(rows.events),
  };
}

function shiftCohort(cohort: Cohort, by: number): Cohort {
  return {
    ...cohort,
    cutOff: cohort.cutOff + by,
    feet: cohort.feet.map(foot => ({ ...foot, startDate: foot.startDate + by })),
  };
}
