import { describe, expect, it } from 'vitest';
import type { HandMadeFoot } from './hand-made.ts';
import { cohortOf, footNamed, PAST, TO } from './hand-made.ts';

// docs/definitions.md, Correction. Cut-off on day 100. C corrected, U uncorrected, N not evaluable.
const feet: readonly HandMadeFoot[] = [
  // Corrected at the first checkup: nothing uncorrected after day 0, so (0, 14].
  {
    id: 'first',
    seen: [
      [0, 4, TO],
      [14, 2.5, PAST],
    ],
  },
  // U 14, N 28 (only the bisector, and it is good), C 42: N is passed over, so (14, 42].
  {
    id: 'later',
    seen: [
      [0, 4, TO],
      [42, 2, PAST],
      [28, 2, undefined],
      [14, 3, PAST],
    ],
  },
  // Only the failing finding recorded on day 28: uncorrected all the same, so (28, 42].
  {
    id: 'one-finding',
    seen: [
      [0, 4, TO],
      [28, undefined, TO],
      [42, 2.5, PAST],
    ],
  },
  // Never more than one good finding: no correction; N does not move the interval from U 14.
  {
    id: 'half-seen',
    seen: [
      [0, 4, TO],
      [14, 4, TO],
      [42, 2.5, undefined],
      [56, undefined, PAST],
    ],
  },
  // Corrected on the day of referral: correction first.
  {
    id: 'same-day',
    end: [42, 'referred for casting'],
    seen: [
      [0, 4, TO],
      [42, 2.5, PAST],
    ],
  },
  // Referred, last seen uncorrected on day 28.
  {
    id: 'referred',
    end: [42, 'referred for surgery'],
    seen: [
      [0, 4, TO],
      [28, 4, TO],
    ],
  },
  // Finished uncorrected: the correction at follow-up on day 90 is after therapy.
  {
    id: 'finished',
    end: [84, 'finished'],
    seen: [
      [0, 4, TO],
      [84, 3, PAST],
      [90, 2, PAST, { kind: 'follow-up' }],
    ],
  },
  { id: 'withdrawn', end: [30, 'withdrawn'], seen: [[0, 4, TO]] },
  {
    id: 'moved',
    end: [33, 'moved away'],
    seen: [
      [0, 4, TO],
      [20, 3, TO],
    ],
  },
  // In therapy, never seen again: to the cut-off.
  { id: 'in-therapy', seen: [[0, 4, TO]] },
];

describe('correction', () => {
  const cohort = cohortOf(feet, 100);

  it.each([
    ['first', 14, 1, 0, 14],
    ['later', 42, 1, 14, 42],
    ['one-finding', 42, 1, 28, 42],
    ['half-seen', 100, 0, 14, Number.POSITIVE_INFINITY],
    ['same-day', 42, 1, 0, 42],
    ['referred', 42, 2, 28, Number.POSITIVE_INFINITY],
    ['finished', 84, 4, 84, Number.POSITIVE_INFINITY],
    ['withdrawn', 30, 3, 0, Number.POSITIVE_INFINITY],
    ['moved', 33, 0, 20, Number.POSITIVE_INFINITY],
    ['in-therapy', 100, 0, 0, Number.POSITIVE_INFINITY],
  ])('foot %s: day %i, cause %i, (%i, %f]', (id, day, cause, lower, upper) => {
    expect(footNamed(cohort, id).correction).toEqual({ day, cause, interval: { lower, upper } });
  });

  it('grades each visit', () => {
    expect(footNamed(cohort, 'later').visits.map(visit => visit.state)).toEqual([
      'uncorrected',
      'uncorrected',
      'not evaluable',
      'corrected',
    ]);
  });

  it('does not take a good baseline row for a checkup', () => {
    const late = cohortOf([{ id: 'a', seen: [[5, 2, PAST, { kind: 'baseline' }]] }], 50);
    expect(late.feet[0]?.correction.cause).toBe(0);
  });

  it('takes no assessment of day 0 for a checkup', () => {
    const early = cohortOf([{ id: 'a', seen: [[0, 2, PAST, { kind: 'checkup' }]] }], 50);
    expect(early.feet[0]?.correction).toMatchObject({ day: 50, cause: 0 });
  });

  it('takes an uncorrected baseline after first fitting as the start of the interval', () => {
    const late = cohortOf(
      [
        {
          id: 'a',
          seen: [
            [3, 4, TO, { kind: 'baseline' }],
            [14, 2, PAST],
          ],
        },
      ],
      50,
    );
    expect(late.feet[0]?.correction.interval).toEqual({ lower: 3, upper: 14 });
  });

  it('never starts an interval before first fitting', () => {
    const early = cohortOf(
      [
        {
          id: 'a',
          seen: [
            [-7, 4, TO, { kind: 'baseline' }],
            [14, 2, PAST],
          ],
        },
      ],
      50,
    );
    expect(early.feet[0]?.correction.interval).toEqual({ lower: 0, upper: 14 });
  });

  it('takes another criterion from the plan', () => {
    const lenient = cohortOf(feet, 100, { correction: { bisectorAtMost: 3, flexibility: [PAST, TO] } });
    // later: day 14 (3, past straight); moved: day 20 (3, to straight); finished: day 84.
    expect(['later', 'moved', 'finished'].map(id => footNamed(lenient, id).correction.day)).toEqual([
      14, 20, 84,
    ]);
  });

  it('lets the plan choose the ends that compete', () => {
    const censoring = cohortOf(feet, 100, { correction: { competingEnds: ['withdrawn', 'moved away'] } });
    const causes = ['referred', 'finished', 'withdrawn', 'moved'].map(
      id => footNamed(censoring, id).correction.cause,
    );
    // Moved away has no code of its own: it is counted with withdrawn.
    expect(causes).toEqual([0, 0, 3, 3]);
  });
});

describe('correction confirmed at the next checkup', () => {
  const confirmed = cohortOf(
    [
      // C 14, N 21, C 28: the next evaluable one is corrected, so day 14, (0, 14].
      {
        id: 'a',
        seen: [
          [0, 4, TO],
          [14, 2, PAST],
          [21, 2, undefined],
          [28, 2, PAST],
        ],
      },
      // C 14, U 28, C 42, C 56: day 42, after the uncorrected day 28.
      {
        id: 'b',
        seen: [
          [0, 4, TO],
          [14, 2, PAST],
          [28, 3, PAST],
          [42, 2, PAST],
          [56, 2, PAST],
        ],
      },
      // C 14 and nothing evaluable after it within therapy (day 70 is after the end): not counted.
      {
        id: 'c',
        end: [60, 'finished'],
        seen: [
          [0, 4, TO],
          [14, 2, PAST],
          [28, undefined, PAST],
          [70, 2, PAST],
        ],
      },
    ],
    100,
    { correction: { confirmedAtNextCheckup: true } },
  );

  it.each([
    ['a', 14, 1, 0, 14],
    ['b', 42, 1, 28, 42],
    ['c', 60, 4, 0, Number.POSITIVE_INFINITY],
  ])('foot %s: day %i, cause %i, (%i, %f]', (id, day, cause, lower, upper) => {
    expect(footNamed(confirmed, id).correction).toEqual({ day, cause, interval: { lower, upper } });
  });
});
