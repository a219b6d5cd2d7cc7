import { describe, expect, it } from 'vitest';
import { NO_SOURCE } from '../../src/cohort/cohort.ts';
import type { Foot, FootWear } from '../../src/cohort/cohort.ts';
import {
  adherenceInWeek,
  adherenceOfFoot,
  adherenceOver,
  dailyAdherence,
  doseByDay,
  meanAdherenceBefore,
} from '../../src/cohort/wear-measures.ts';
import type { HandMadeFoot } from './hand-made.ts';
import { cohortOf, footNamed, planWith } from './hand-made.ts';

// docs/definitions.md, Adherence. Cut-off on day 20. WEAR_SOURCES: 0 sensor, 1 diary, 2 recall.
const feet: readonly HandMadeFoot[] = [
  // Days 0 and 1 are break-in. Full time to day 4 expects 23 hours; from day 5 15 hours. Day 3 has no row. Finished on
  // day 8, so day 7 is the last adherence day: rows of days 0, 1, 8, 9 are other rows (4).
  {
    id: 'usual',
    end: [8, 'finished'],
    phases: [
      [0, 24],
      [5, 15],
    ],
    worn: [[0, [10, 20, 23, undefined, 24, 15, 12, 0, 8, 8]]],
  },
  // Sensor before diary before recall, whatever the order of the rows. Day 2 all three, day 3 diary and recall, day 4
  // recall alone, day 5 none.
  {
    id: 'sources',
    phases: [[0, 24]],
    worn: [
      [2, [20, 19, 18], 'recall'],
      [2, [10, 11], 'diary'],
      [2, [4.5], 'sensor'],
    ],
  },
  // First phase on day 6: days 2 to 5 have no prescribed hours.
  { id: 'late-phase', phases: [[6, 12]], worn: [[4, [12, 12, 9.6, 9.5]]] },
  // In therapy: the day of the cut-off counts.
  { id: 'cut-off', phases: [[0, 12]], worn: [[19, [12, 12]]] },
  // Rows on break-in days only; no rows; no phase.
  { id: 'break-in', phases: [[0, 24]], worn: [[0, [20, 20]]] },
  { id: 'no-rows', phases: [[0, 24]] },
  { id: 'no-phase', worn: [[2, [20, 20]]] },
];
const cohort = cohortOf(feet, 20);
const plan = planWith();

function wearOf(foot: Foot): FootWear {
  if (foot.wear === undefined) throw new Error('no wear');
  return foot.wear;
}
const wear = (id: string) => wearOf(footNamed(cohort, id));
const plain = ({ day, hours, expected, source, ...rest }: FootWear) => ({
  day: [...day],
  hours: [...hours],
  expected: [...expected],
  source: [...source],
  ...rest,
});

describe('adherence days', () => {
  it('leaves out break-in days and the day the therapy ended, and counts their rows', () => {
    expect(plain(wear('usual'))).toEqual({
      day: [2, 4, 5, 6, 7],
      hours: [23, 24, 15, 12, 0],
      expected: [23, 23, 15, 15, 15],
      source: [1, 1, 1, 1, 1],
      firstDay: 2,
      lastDay: 7,
      otherRows: 4,
    });
  });

  it('takes the first source that has a row for the day', () => {
    const { day, hours, source, otherRows } = plain(wear('sources'));
    expect({ day, hours, source, otherRows }).toEqual({
      day: [2, 3, 4],
      hours: [4.5, 11, 18],
      source: [0, 1, 2],
      otherRows: 0,
    });
  });

  it('follows another order of sources, in which a source may be left out', () => {
    const other = cohortOf(feet, 20, { adherence: { sourceOrder: ['diary', 'sensor'] } });
    const { day, hours, source } = plain(wearOf(footNamed(other, 'sources')));
    expect({ day, hours, source }).toEqual({ day: [2, 3], hours: [10, 11], source: [1, 1] });
  });

  it('starts with the first phase', () => {
    const { day, firstDay, lastDay, otherRows } = plain(wear('late-phase'));
    expect({ day, firstDay, lastDay, otherRows }).toEqual({
      day: [6, 7],
      firstDay: 6,
      lastDay: 20,
      otherRows: 2,
    });
  });

  it('goes to the cut-off while in therapy', () => {
    expect([...wear('cut-off').day]).toEqual([19, 20]);
  });

  it('tells no rows from rows on other days', () => {
    expect(footNamed(cohort, 'no-rows').wear).toBeUndefined();
    expect(wear('break-in')).toMatchObject({ day: new Int32Array(0), otherRows: 2 });
    expect(wear('no-phase')).toMatchObject({
      day: new Int32Array(0),
      otherRows: 2,
      firstDay: 0,
      lastDay: -1,
    });
  });

  it('counts missing days as not worn when told so, but only for feet with wear data', () => {
    const filled = cohortOf(feet, 20, { adherence: { missingDays: 'not worn' } });
    const { day, hours, source } = plain(wearOf(footNamed(filled, 'usual')));
    expect(day).toEqual([2, 3, 4, 5, 6, 7]);
    expect(hours).toEqual([23, 0, 24, 15, 12, 0]);
    expect(source).toEqual([1, NO_SOURCE, 1, 1, 1, 1]);
    expect(wearOf(footNamed(filled, 'break-in')).day).toHaveLength(0);
    expect(footNamed(filled, 'no-rows').wear).toBeUndefined();
  });

  it('takes another full time and care from the plan', () => {
    const other = cohortOf(feet, 20, { adherence: { fullTimeHours: 15, careHours: 3, breakInDays: 0 } });
    expect([...wearOf(footNamed(other, 'usual')).expected]).toEqual([24, 24, 24, 24, 12, 12, 12]);
  });

  it('refuses care hours that leave nothing expected', () => {
    expect(() => cohortOf(feet, 20, { adherence: { fullTimeHours: 12, careHours: 12 } })).toThrow(
      'plan: adherence.careHours is 12; it must be less than adherence.fullTimeHours (12)',
    );
  });
});

describe('measures of adherence', () => {
  it('allows more than 100 % of a day', () => {
    // 23/23, 24/23, 15/15, 12/15, 0/15
    expect([...dailyAdherence(wear('usual'))]).toEqual([1, 24 / 23, 1, 0.8, 0]);
  });

  it('sums a foot up', () => {
    // Worn 23 + 24 + 15 + 12 + 0 = 74 of 23 + 23 + 15 + 15 + 15 = 91; 4 of 5 days at 80 % or more; 6 adherence days.
    const sum = adherenceOfFoot(wear('usual'), plan);
    expect(sum).toMatchObject({ days: 6, daysWithData: 5, hoursWorn: 74, hoursExpected: 91, daysCovered: 4 });
    expect(sum.wornOverExpected).toBeCloseTo(74 / 91, 12);
    expect(sum.meanDaily).toBeCloseTo((1 + 24 / 23 + 1 + 0.8 + 0) / 5, 12);
    expect(sum.shareCovered).toBe(0.8);
  });

  it('counts 9.6 of 12 hours as covered, 9.5 not', () => {
    expect(adherenceOfFoot(wear('late-phase'), plan).daysCovered).toBe(1);
  });

  it('sums a stretch and a week', () => {
    expect(adherenceOver(wear('usual'), 3, 5, plan)).toMatchObject({
      days: 3,
      daysWithData: 2,
      hoursWorn: 39,
    });
    expect(adherenceInWeek(wear('usual'), 0, plan)).toMatchObject({
      days: 5,
      daysWithData: 4,
      hoursWorn: 74,
    });
    expect(adherenceInWeek(wear('usual'), 1, plan)).toMatchObject({ days: 1, daysWithData: 1, hoursWorn: 0 });
  });

  it('has no ratio without data', () => {
    expect(adherenceInWeek(wear('usual'), 2, plan)).toEqual({
      days: 0,
      daysWithData: 0,
      hoursWorn: 0,
      hoursExpected: 0,
      wornOverExpected: undefined,
      meanDaily: undefined,
      daysCovered: 0,
      shareCovered: undefined,
    });
  });

  it('means the days before, never the day itself', () => {
    // Before day 7, 3 days: days 4, 5, 6.
    expect(meanAdherenceBefore(wear('usual'), 7, 3)).toBeCloseTo((24 / 23 + 1 + 0.8) / 3, 12);
    // Before day 4, 2 days: day 2 alone has data.
    expect(meanAdherenceBefore(wear('usual'), 4, 2)).toBe(1);
    expect(meanAdherenceBefore(wear('usual'), 4, 2, 2)).toBeUndefined();
    expect(meanAdherenceBefore(wear('usual'), 2, 7)).toBeUndefined();
  });

  it('adds up the dose to the end of a day', () => {
    const dose = doseByDay(wear('usual'));
    expect([1, 2, 3, 4, 6, 50].map(day => dose(day))).toEqual([
      { hours: 0, days: 0, daysWithData: 0 },
      { hours: 23, days: 1, daysWithData: 1 },
      { hours: 23, days: 2, daysWithData: 1 },
      { hours: 47, days: 3, daysWithData: 2 },
      { hours: 74, days: 5, daysWithData: 4 },
      { hours: 74, days: 6, daysWithData: 5 },
    ]);
  });
});
