import { describe, expect, it } from 'vitest';
import { discontinuationInSpell } from '../../src/cohort/discontinuation.ts';
import type { HandMadeFoot } from './hand-made.ts';
import { cohortOf, days, footNamed, planWith } from './hand-made.ts';

// docs/definitions.md, Discontinuation. Cut-off on day 40; 12 hours prescribed.
const feet: readonly HandMadeFoot[] = [
  // Days 10 to 16 are seven: day 16.
  {
    id: 'seven',
    phases: [[0, 12]],
    worn: [
      [2, days(8, 12)],
      [10, days(9, 0)],
    ],
  },
  // Six, worn half an hour, six.
  { id: 'six', phases: [[0, 12]], worn: [[10, [...days(6, 0), 0.5, ...days(6, 0)]]] },
  // Four, a day without a row, six: the missing day breaks the run.
  { id: 'broken', phases: [[0, 12]], worn: [[10, [...days(4, 0), undefined, ...days(6, 0)]]] },
  // Break-in days do not begin the run: days 2 to 8.
  { id: 'from-start', phases: [[0, 12]], worn: [[0, days(12, 0)]] },
  // Withdrawn on day 30 without a run.
  { id: 'withdrawn', end: [30, 'withdrawn'], phases: [[0, 12]], worn: [[2, days(5, 12)]] },
  // A run that ends on day 29, the day before withdrawal, comes first; one day later it cannot be complete in time.
  { id: 'run-first', end: [30, 'withdrawn'], phases: [[0, 12]], worn: [[23, days(8, 0)]] },
  { id: 'too-late', end: [30, 'withdrawn'], phases: [[0, 12]], worn: [[24, days(8, 0)]] },
  // Finished: censored on the last day of therapy, though wear data stop before.
  { id: 'finished', end: [30, 'finished'], phases: [[0, 12]], worn: [[2, days(5, 12)]] },
  // Withdrawn, but never with wear data on an adherence day: not followed.
  { id: 'no-data', end: [30, 'withdrawn'], phases: [[0, 12]], worn: [[0, [12, 12]]] },
  // Seven days across a step-down on day 20: 17, 18, 19 and 20 to 23.
  {
    id: 'across',
    end: [30, 'withdrawn'],
    phases: [
      [0, 15],
      [20, 12],
    ],
    worn: [[17, days(7, 0)]],
  },
];
const cohort = cohortOf(feet, 40);

describe('discontinuation', () => {
  it.each([
    ['seven', { day: 16, event: true }],
    ['six', { day: 40, event: false }],
    ['broken', { day: 40, event: false }],
    ['from-start', { day: 8, event: true }],
    ['withdrawn', { day: 30, event: true }],
    ['run-first', { day: 29, event: true }],
    ['too-late', { day: 30, event: true }],
    ['finished', { day: 30, event: false }],
    ['no-data', undefined],
    ['across', { day: 23, event: true }],
  ])('foot %s', (id, expected) => {
    expect(footNamed(cohort, id).discontinuation).toEqual(expected);
  });

  it('counts missing days as not worn when told so', () => {
    const filled = cohortOf(feet, 40, { adherence: { missingDays: 'not worn' } });
    // broken: days 2 to 8 have no row. withdrawn: worn to day 6, so days 7 to 13.
    expect(['broken', 'withdrawn', 'no-data'].map(id => footNamed(filled, id).discontinuation)).toEqual([
      { day: 8, event: true },
      { day: 13, event: true },
      undefined,
    ]);
  });

  it('takes the length of the run from the plan', () => {
    const five = cohortOf(feet, 40, { discontinuation: { daysNotWorn: 5 } });
    expect(['six', 'broken'].map(id => footNamed(five, id).discontinuation?.day)).toEqual([14, 19]);
  });
});

describe('discontinuation within a phase', () => {
  const plan = planWith();
  const inSpells = (id: string) => {
    const foot = footNamed(cohort, id);
    return foot.spells.map(spell => discontinuationInSpell(foot, spell, plan));
  };

  it('does not join runs across phases; withdrawal belongs to the last phase', () => {
    // First spell, days 0 to 19: three days not worn, censored at 19. Second, days 20 to 30: four, withdrawn at 10.
    expect(inSpells('across')).toEqual([
      { day: 19, event: false },
      { day: 10, event: true },
    ]);
  });

  it('takes in the last day of the spell', () => {
    const foot: HandMadeFoot = {
      id: 'a',
      phases: [
        [0, 15],
        [20, 12],
      ],
      worn: [[13, days(7, 0)]],
    };
    const made = footNamed(cohortOf([foot], 40), 'a');
    expect(made.spells.map(spell => discontinuationInSpell(made, spell, plan))).toEqual([
      { day: 19, event: true },
      undefined,
    ]);
  });

  it('is undefined for a spell without wear data', () => {
    const late: HandMadeFoot = {
      id: 'a',
      phases: [
        [0, 15],
        [20, 12],
      ],
      worn: [[20, days(3, 12)]],
    };
    const foot = footNamed(cohortOf([late], 40), 'a');
    expect(foot.spells.map(spell => discontinuationInSpell(foot, spell, plan))).toEqual([
      undefined,
      { day: 20, event: false },
    ]);
    expect(inSpells('no-data')).toEqual([undefined]);
  });
});
