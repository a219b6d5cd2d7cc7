import { describe, expect, it } from 'vitest';
import { lapseInSpell } from '../../src/cohort/lapse.ts';
import type { HandMadeFoot } from './hand-made.ts';
import { cohortOf, days, footNamed, planWith } from './hand-made.ts';

// docs/definitions.md, Lapse. Cut-off on day 40; 12 hours prescribed unless said. The first window is days 2 to 8.
const feet: readonly HandMadeFoot[] = [
  // 9.6 of 12 hours every day is exactly 80 %: no lapse, censored on the last day.
  { id: 'at-80', phases: [[0, 12]], worn: [[2, days(39, 9.6)]] },
  // A little less: lapse on the first evaluable day.
  { id: 'under-80', phases: [[0, 12]], worn: [[2, days(39, 9.59)]] },
  // 12 hours to day 20, then 6: after k days at half the mean is 1 - k/14; 0.786 at k = 3, so day 23.
  {
    id: 'drops',
    phases: [[0, 12]],
    worn: [
      [2, days(19, 12)],
      [21, days(20, 6)],
    ],
  },
  // Twice the hours on days 14 to 20 (200 % of full hours is possible on paper: 24 of 12), then none: the mean is
  // (14 - 2k)/7, 0.857 at k = 4, 0.571 at k = 5: day 25.
  {
    id: 'over-100',
    phases: [[0, 12]],
    worn: [
      [2, days(12, 12)],
      [14, days(7, 24)],
      [21, days(20, 0)],
    ],
  },
  // Rows on every second day, 2 to 40: days 2, 4, 6, 8 are four, so day 8 is evaluable; days 3 to 9 hold three. The last
  // evaluable day is 40 (34, 36, 38, 40).
  {
    id: 'every-second',
    phases: [[0, 12]],
    worn: [[2, Array.from({ length: 39 }, (_, i) => (i % 2 ? undefined : 12))]],
  },
  // Rows on days 2 to 12 alone: windows up to day 15 (9 to 15 holds 9, 10, 11, 12) have four.
  { id: 'stops', phases: [[0, 12]], worn: [[2, days(11, 12)]] },
  // Three rows: never evaluable.
  { id: 'three-rows', phases: [[0, 12]], worn: [[2, days(3, 0)]] },
  { id: 'no-rows', phases: [[0, 12]] },
  // Two low break-in days do not count.
  { id: 'break-in', phases: [[0, 12]], worn: [[0, [0, 0, ...days(39, 12)]]] },
  // Full time, 18 hours a day: 18/23 = 78 % lapses on day 8; 15 hours from day 15 with 18 worn: 120 %.
  {
    id: 'two-phases',
    end: [36, 'finished'],
    phases: [
      [0, 24],
      [15, 15],
    ],
    worn: [[2, days(35, 18)]],
  },
];
const cohort = cohortOf(feet, 40);

describe('lapse', () => {
  it.each([
    ['at-80', { day: 40, event: false }],
    ['under-80', { day: 8, event: true }],
    ['drops', { day: 23, event: true }],
    ['over-100', { day: 25, event: true }],
    ['every-second', { day: 40, event: false }],
    ['stops', { day: 15, event: false }],
    ['three-rows', undefined],
    ['no-rows', undefined],
    ['break-in', { day: 40, event: false }],
    ['two-phases', { day: 8, event: true }],
  ])('foot %s', (id, expected) => {
    expect(footNamed(cohort, id).lapse).toEqual(expected);
  });

  it('counts missing days as not worn when told so', () => {
    const filled = cohortOf(feet, 40, { adherence: { missingDays: 'not worn' } });
    // every-second: 4 of 7 days worn on day 8. stops: days 13 and 14 not worn, 5 of 7 on day 14. three-rows: all 0.
    expect(['every-second', 'stops', 'three-rows', 'no-rows'].map(id => footNamed(filled, id).lapse)).toEqual(
      [{ day: 8, event: true }, { day: 14, event: true }, { day: 8, event: true }, undefined],
    );
  });

  it('takes window, limit and least data from the plan', () => {
    const other = cohortOf(feet, 40, { lapse: { windowDays: 3, below: 0.6, minimumDays: 3 } });
    // drops: means of three days 1 - k/6; 0.5 at k = 3, day 23. three-rows: the three zeros end on day 4.
    expect(['drops', 'three-rows'].map(id => footNamed(other, id).lapse)).toEqual([
      { day: 23, event: true },
      { day: 4, event: true },
    ]);
  });
});

describe('lapse within a phase', () => {
  const plan = planWith();
  const inSpells = (id: string, from = cohort) => {
    const foot = footNamed(from, id);
    return foot.spells.map(spell => lapseInSpell(foot, spell, plan));
  };

  it('starts anew with the phase and leaves the end day of therapy out', () => {
    // First spell: day 8 of day 0. Second spell, days 15 to 36: never under, last adherence day 35, 20 days after 15.
    expect(inSpells('two-phases')).toEqual([
      { day: 8, event: true },
      { day: 20, event: false },
    ]);
  });

  it('does not look back before the spell', () => {
    // Days 2 to 19 not worn, phase of 12 hours from day 20 fully worn: the windows of days 20 to 25 would reach back; the
    // first within the spell is that of day 26. It steps to 15 hours on day 30 with nothing recorded after.
    const foot: HandMadeFoot = {
      id: 'a',
      phases: [
        [0, 24],
        [20, 12],
        [30, 15],
      ],
      worn: [
        [2, days(18, 0)],
        [20, days(10, 12)],
      ],
    };
    // The third spell: no day with data.
    expect(inSpells('a', cohortOf([foot], 40))).toEqual([
      { day: 8, event: true },
      { day: 9, event: false },
      undefined,
    ]);
  });

  it('is undefined for a spell shorter than the window, and without wear', () => {
    const short: HandMadeFoot = {
      id: 'a',
      phases: [
        [0, 24],
        [6, 12],
      ],
      worn: [[2, days(10, 20)]],
    };
    expect(inSpells('a', cohortOf([short], 40))[0]).toBeUndefined();
    expect(inSpells('no-rows')).toEqual([undefined]);
  });
});
