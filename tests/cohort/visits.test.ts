import { describe, expect, it } from 'vitest';
import { cohortOf, footNamed, PAST, SHORT, TO } from './hand-made.ts';

// docs/definitions.md, One assessment a day; Baseline.
describe('one assessment a day', () => {
  const cohort = cohortOf(
    [
      // The treating clinician's row counts, though another code comes first and another row stands first.
      {
        id: 'a',
        clinician: 'm',
        seen: [
          [14, 4, TO, { by: 'b' }],
          [14, 3, undefined, { by: 'm' }],
          [14, 3.5, TO, { by: 'z' }],
        ],
      },
      // No treating clinician's row: the first code; capitals come before small letters by code point.
      {
        id: 'b',
        clinician: 'm',
        seen: [
          [14, 4, TO, { by: 'b' }],
          [14, 3, TO, { by: 'Z' }],
        ],
      },
      // A blank assessor comes last, also where the clinician is blank too.
      {
        id: 'c',
        seen: [
          [14, 4, TO],
          [14, 3, TO, { by: 'z' }],
        ],
      },
      // The treating clinician's row stands first.
      {
        id: 'e',
        clinician: 'm',
        seen: [
          [14, 3, TO, { by: 'm' }],
          [14, 4, TO, { by: 'b' }],
        ],
      },
      // Only a blank one.
      { id: 'd', seen: [[14, 4, TO]] },
    ],
    20,
  );

  it.each([
    ['a', 'm', 3],
    ['b', 'Z', 3],
    ['c', 'z', 3],
    ['d', undefined, 4],
    ['e', 'm', 3],
  ])('foot %s: the row of %s', (id, assessor, position) => {
    const { visits } = footNamed(cohort, id);
    expect(visits.map(visit => [visit.day, visit.assessor, visit.bisectorPosition])).toEqual([
      [14, assessor, position],
    ]);
  });

  it('does not mix findings between rows', () => {
    expect(footNamed(cohort, 'a').visits[0]?.flexibility).toBeUndefined();
  });

  it('lets the choice of the day decide the baseline too', () => {
    const two = cohortOf(
      [
        {
          id: 'a',
          clinician: 'm',
          seen: [
            [0, 5, SHORT, { by: 'b' }],
            [0, 3, PAST, { by: 'm' }],
          ],
        },
      ],
      20,
    );
    expect(two.feet[0]?.band).toBe('mild');
  });
});

describe('the baseline assessment', () => {
  const baseline = { kind: 'baseline', crease: false } as const;
  const cohort = cohortOf(
    [
      // Days -3 and 2: the nearer is day 2.
      {
        id: 'a',
        seen: [
          [2, 4, PAST, baseline],
          [-3, 5, PAST, baseline],
        ],
      },
      // Days -3 and 3: a tie, the earlier.
      {
        id: 'b',
        seen: [
          [3, 3, PAST, baseline],
          [-3, 5, PAST, baseline],
        ],
      },
      // Day -14 is within the window, day 15 is not.
      { id: 'c', seen: [[-14, 5, PAST, baseline]] },
      { id: 'd', seen: [[15, 5, PAST, baseline]] },
      // A checkup on day 0 is no baseline.
      { id: 'e', seen: [[0, 5, PAST, { kind: 'checkup' }]] },
    ],
    30,
  );

  it.each([
    ['a', 2, 'moderate'],
    ['b', -3, 'severe'],
    ['c', -14, 'severe'],
    ['d', undefined, 'not known'],
    ['e', undefined, 'not known'],
  ])('foot %s: day %s, %s', (id, day, band) => {
    const foot = footNamed(cohort, id);
    expect([foot.baseline.day, foot.band]).toEqual([day, band]);
  });

  it('takes a narrower window from the plan', () => {
    const narrow = cohortOf([{ id: 'c', seen: [[-14, 5, PAST, baseline]] }], 30, {
      baseline: { windowDays: 13 },
    });
    expect(narrow.feet[0]?.baseline.day).toBeUndefined();
  });
});
