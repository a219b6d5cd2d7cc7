import { describe, expect, it } from 'vitest';
import { spellOn } from '../../src/cohort/phase-spells.ts';
import { returnDays } from '../../src/cohort/step-downs.ts';
import type { HandMadeFoot } from './hand-made.ts';
import { cohortOf, footNamed, stepDownsNamed } from './hand-made.ts';

// docs/definitions.md, Phases and step-downs. Cut-off on day 100.
const feet: readonly HandMadeFoot[] = [
  // The usual course, rows out of order; the last one has no end.
  {
    id: 'usual',
    end: [84, 'finished'],
    phases: [
      [63, 12],
      [0, 24, 41],
      [42, 15, 62],
    ],
  },
  // Two rows of 24 hours are one spell; 24 to 12 skips the 15.
  {
    id: 'merged',
    phases: [
      [0, 24, 13],
      [14, 24, 41],
      [42, 12],
    ],
  },
  // Back to full time and down again; finished from 24 hours: 24 to none.
  {
    id: 'return',
    end: [90, 'finished'],
    phases: [
      [0, 24],
      [42, 15],
      [50, 24],
    ],
  },
  // Recorded ends leave gaps (days 31 to 41, and after 60): the phase stays in force.
  {
    id: 'gaps',
    end: [70, 'moved away'],
    phases: [
      [3, 24, 30],
      [42, 15, 60],
    ],
  },
  // A spell after the end of therapy is left out, one that starts before first fitting is cut at day 0.
  {
    id: 'outside',
    end: [50, 'withdrawn'],
    phases: [
      [-2, 24],
      [42, 15],
      [60, 12],
    ],
  },
  // A step-down on the last day, and finished that day.
  {
    id: 'last-day',
    end: [42, 'finished'],
    phases: [
      [0, 24],
      [42, 15],
    ],
  },
  // No phases on record.
  { id: 'none', end: [42, 'finished'] },
];
const cohort = cohortOf(feet, 100);

describe('phase spells', () => {
  it.each([
    [
      'usual',
      [
        [0, 41, 24],
        [42, 62, 15],
        [63, 84, 12],
      ],
    ],
    [
      'merged',
      [
        [0, 41, 24],
        [42, 100, 12],
      ],
    ],
    [
      'return',
      [
        [0, 41, 24],
        [42, 49, 15],
        [50, 90, 24],
      ],
    ],
    [
      'gaps',
      [
        [3, 41, 24],
        [42, 70, 15],
      ],
    ],
    [
      'outside',
      [
        [0, 41, 24],
        [42, 50, 15],
      ],
    ],
    [
      'last-day',
      [
        [0, 41, 24],
        [42, 42, 15],
      ],
    ],
    ['none', []],
  ])('foot %s', (id, spells) => {
    expect(
      footNamed(cohort, id).spells.map(spell => [spell.startDay, spell.endDay, spell.prescribedHours]),
    ).toEqual(spells);
  });

  it('finds the phase in force', () => {
    const { spells } = footNamed(cohort, 'gaps');
    expect([2, 3, 41, 42, 70, 71].map(day => spellOn(spells, day)?.prescribedHours)).toEqual([
      undefined,
      24,
      24,
      15,
      15,
      undefined,
    ]);
  });
});

describe('step-downs', () => {
  // Day, name, days in the phase before, number.
  it.each([
    [
      'usual',
      [
        [42, '24 to 15', 42, 1],
        [63, '15 to 12', 21, 2],
        [84, '12 to none', 21, 3],
      ],
    ],
    ['merged', [[42, '24 to 12', 42, 1]]],
    [
      'return',
      [
        [42, '24 to 15', 42, 1],
        [90, '24 to none', 40, 2],
      ],
    ],
    ['gaps', [[42, '24 to 15', 39, 1]]],
    ['outside', [[42, '24 to 15', 42, 1]]],
    [
      'last-day',
      [
        [42, '24 to 15', 42, 1],
        [42, '15 to none', 0, 2],
      ],
    ],
    ['none', []],
  ])('foot %s', (id, expected) => {
    expect(
      stepDownsNamed(cohort, id).map(({ day, step, daysInPhaseBefore, ordinal }) => [
        day,
        step,
        daysInPhaseBefore,
        ordinal,
      ]),
    ).toEqual(expected);
  });

  it('lists the returns to longer hours', () => {
    expect(feet.map(({ id }) => returnDays(footNamed(cohort, id).spells))).toEqual([
      [],
      [],
      [50],
      [],
      [],
      [],
      [],
    ]);
  });
});
