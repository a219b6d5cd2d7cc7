import { describe, expect, it } from 'vitest';
import type { HandMadeFoot } from './hand-made.ts';
import { cohortOf, PAST, stepDownsNamed } from './hand-made.ts';

// docs/definitions.md, Relapse after a step-down. Cut-off on day 200. Each foot is at position 3 on day 0 unless said.
const usual = [
  [0, 24],
  [42, 15],
  [63, 12],
] as const;
const follow = { kind: 'follow-up' } as const;
const feet: readonly HandMadeFoot[] = [
  // 24 to 15 on day 42 with position 2.5 that day (the reference); 3 on day 63 is half a position worse, on the day of
  // the next step-down: relapse first, 21 days. 15 to 12 on day 63: reference 3 of that day; in therapy to 200: 137 days.
  {
    id: 'on-the-day',
    phases: usual,
    seen: [
      [0, 3, PAST],
      [42, 2.5, PAST],
      [63, 3, PAST],
    ],
  },
  // Reference for day 42 is 2.5 of day 20; day 50 the same, so the next step-down ends it after 21 days. Return to 24
  // hours on day 80: 17 days after day 63, by longer hours. Second 24 to 15 on day 101, withdrawn on day 120: 19 days.
  {
    id: 'returned',
    end: [120, 'withdrawn'],
    phases: [
      [0, 24],
      [42, 15],
      [63, 12],
      [80, 24],
      [101, 15],
    ],
    seen: [
      [0, 3, PAST],
      [20, 2.5, PAST],
      [50, 2.5, PAST],
      [101, 2, PAST],
    ],
  },
  // Both signs on day 60.
  {
    id: 'both',
    phases: [
      [0, 24],
      [42, 15],
      [60, 24],
    ],
    seen: [
      [0, 3, PAST],
      [60, 4, PAST],
    ],
  },
  // Worse on day 50 before the return on day 60.
  {
    id: 'worse-first',
    phases: [
      [0, 24],
      [42, 15],
      [60, 24],
    ],
    seen: [
      [0, 3, PAST],
      [50, 4, PAST],
    ],
  },
  // No position on record: only the return can be seen; and after the end (day 90) nothing can.
  {
    id: 'no-reference',
    end: [90, 'finished'],
    phases: [
      [0, 24],
      [42, 15],
      [60, 24],
      [70, 15],
    ],
    seen: [[100, 3, PAST, follow]],
  },
  // 12 to none on day 84: seen on days 100 and 130 (46 days after) unchanged: 46 days, censored.
  {
    id: 'seen-after',
    end: [84, 'finished'],
    phases: usual,
    seen: [
      [0, 3, PAST],
      [100, 3, PAST, follow],
      [130, 3, PAST, follow],
    ],
  },
  // Seen last on day 190, beyond 12 weeks: 84 days, though worse on day 190.
  {
    id: 'long-after',
    end: [84, 'finished'],
    phases: usual,
    seen: [
      [0, 3, PAST],
      [190, 5, PAST, follow],
    ],
  },
  // Worse exactly at 12 weeks (day 168): a relapse at 84 days.
  {
    id: 'at-12-weeks',
    end: [84, 'finished'],
    phases: usual,
    seen: [
      [0, 3, PAST],
      [168, 3.5, PAST, follow],
    ],
  },
  // Seen on the last day only, then once without the bisector: not seen after the end.
  {
    id: 'not-seen',
    end: [84, 'finished'],
    phases: usual,
    seen: [
      [0, 3, PAST],
      [84, 3, PAST],
      [100, undefined, PAST, follow],
    ],
  },
  // Worse on the day of referral: relapse first.
  {
    id: 'referred-worse',
    end: [50, 'referred for casting'],
    phases: usual,
    seen: [
      [0, 3, PAST],
      [50, 4, PAST],
    ],
  },
  {
    id: 'referred',
    end: [50, 'referred for surgery'],
    phases: usual,
    seen: [
      [0, 3, PAST],
      [51, 4, PAST],
    ],
  },
  // The baseline of day -5 is the reference; the later, unscheduled row before day 0 is not.
  {
    id: 'before-start',
    end: [60, 'lost to follow-up'],
    phases: usual,
    seen: [
      [-5, 3, PAST, { kind: 'baseline' }],
      [-1, 2, PAST, { kind: 'unscheduled' }],
      [50, 3, PAST],
    ],
  },
  // Step-down on the day of the cut-off: no time at risk.
  {
    id: 'at-cut-off',
    phases: [
      [0, 24],
      [200, 15],
    ],
    seen: [[0, 3, PAST]],
  },
  // Withdrawn on the day of the step-down: no time at risk, so nothing ended it.
  { id: 'on-last-day', end: [42, 'withdrawn'], phases: usual, seen: [[0, 3, PAST]] },
  // A step-down on the day of referral comes before it; itself it has no time at risk.
  { id: 'next-and-left', end: [63, 'referred for casting'], phases: usual, seen: [[0, 3, PAST]] },
];
const cohort = cohortOf(feet, 200);

describe('relapse after a step-down', () => {
  // Step, reference, days at risk, cause, sign.
  it.each([
    [
      'on-the-day',
      [
        ['24 to 15', 2.5, 21, 1, 'bisector worse'],
        ['15 to 12', 3, 137, 0, undefined],
      ],
    ],
    [
      'returned',
      [
        ['24 to 15', 2.5, 21, 2, undefined],
        ['15 to 12', 2.5, 17, 1, 'longer hours'],
        ['24 to 15', 2, 19, 3, undefined],
      ],
    ],
    ['both', [['24 to 15', 3, 18, 1, 'both']]],
    ['worse-first', [['24 to 15', 3, 8, 1, 'bisector worse']]],
    [
      'no-reference',
      [
        ['24 to 15', undefined, 18, 1, 'longer hours'],
        ['24 to 15', undefined, 20, 2, undefined],
        ['15 to none', undefined, 0, 0, undefined],
      ],
    ],
    [
      'seen-after',
      [
        ['24 to 15', 3, 21, 2, undefined],
        ['15 to 12', 3, 21, 2, undefined],
        ['12 to none', 3, 46, 0, undefined],
      ],
    ],
    [
      'long-after',
      [
        ['24 to 15', 3, 21, 2, undefined],
        ['15 to 12', 3, 21, 2, undefined],
        ['12 to none', 3, 84, 0, undefined],
      ],
    ],
    [
      'at-12-weeks',
      [
        ['24 to 15', 3, 21, 2, undefined],
        ['15 to 12', 3, 21, 2, undefined],
        ['12 to none', 3, 84, 1, 'bisector worse'],
      ],
    ],
    [
      'not-seen',
      [
        ['24 to 15', 3, 21, 2, undefined],
        ['15 to 12', 3, 21, 2, undefined],
        ['12 to none', 3, 0, 0, undefined],
      ],
    ],
    ['referred-worse', [['24 to 15', 3, 8, 1, 'bisector worse']]],
    ['referred', [['24 to 15', 3, 8, 3, undefined]]],
    ['before-start', [['24 to 15', 3, 18, 0, undefined]]],
    ['at-cut-off', [['24 to 15', 3, 0, 0, undefined]]],
    ['on-last-day', [['24 to 15', 3, 0, 0, undefined]]],
    [
      'next-and-left',
      [
        ['24 to 15', 3, 21, 2, undefined],
        ['15 to 12', 3, 0, 0, undefined],
      ],
    ],
  ])('foot %s', (id, expected) => {
    expect(
      stepDownsNamed(cohort, id).map(({ step, referencePosition, daysAtRisk, cause, sign }) => [
        step,
        referencePosition,
        daysAtRisk,
        cause,
        sign,
      ]),
    ).toEqual(expected);
  });
});

describe('relapse by another plan', () => {
  const outcomes = (id: string, relapse: object) =>
    stepDownsNamed(cohortOf(feet, 200, { relapse }), id).map(({ daysAtRisk, cause }) => [daysAtRisk, cause]);

  it('does not count longer hours when told so', () => {
    // The 15 to 12 of day 63 then runs on to the next step-down on day 101.
    expect(outcomes('returned', { longerHoursCount: false })).toEqual([
      [21, 2],
      [38, 2],
      [19, 3],
    ]);
  });

  it('censors at the next step-down when told so', () => {
    expect(outcomes('returned', { nextStepDown: 'censored' })).toEqual([
      [21, 0],
      [17, 1],
      [19, 3],
    ]);
  });

  it('asks for a whole position when told so', () => {
    // on-the-day: 2.5 to 3 is not enough, so the next step-down ends it.
    expect(outcomes('on-the-day', { bisectorWorseBy: 1 })[0]).toEqual([21, 2]);
  });

  it('follows for fewer weeks after therapy', () => {
    expect(outcomes('seen-after', { weeksAfterTherapy: 4 })[2]).toEqual([28, 0]);
  });
});
