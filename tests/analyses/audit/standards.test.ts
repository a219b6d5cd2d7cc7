// Every standard of docs/definitions.md, section Audit standards, on feet whose answer was worked out on paper.
import { describe, expect, it } from 'vitest';
import { type AuditFoot, cohortOf, itemsUnder, planWith } from './hand-made.ts';

const LATE = '2026-12-31';

describe('what is asked at first fitting', () => {
  it('counts a blank photograph or teach-back as not done, in the quarter of first fitting', () => {
    const cohort = cohortOf(
      [
        { id: 'a', start: '2026-03-31', episode: { baseline_photo: true, teach_back: false } },
        { id: 'b', start: '2026-04-01', episode: { baseline_photo: false, teach_back: true } },
        { id: 'c', start: '2026-06-30' },
      ],
      LATE,
    );
    expect(itemsUnder('baseline-photograph', cohort)).toEqual([
      ['a', '2026-Q1', true],
      ['b', '2026-Q2', false],
      ['c', '2026-Q2', false],
    ]);
    expect(itemsUnder('teach-back', cohort)).toEqual([
      ['a', '2026-Q1', false],
      ['b', '2026-Q2', true],
      ['c', '2026-Q2', false],
    ]);
  });

  it('asks for all three findings', () => {
    const cohort = cohortOf(
      [
        { id: 'all', start: '2026-02-02', baseline: [4, true, true] },
        { id: 'no-crease', start: '2026-02-02', baseline: [4, true, false] },
        { id: 'no-flexibility', start: '2026-02-02', baseline: [4, false, true] },
        { id: 'no-position', start: '2026-02-02', baseline: [undefined, true, true] },
        { id: 'none', start: '2026-02-02' },
      ],
      LATE,
    );
    expect(itemsUnder('baseline-findings', cohort).filter(([, , met]) => met)).toEqual([
      ['all', '2026-Q1', true],
    ]);
    expect(itemsUnder('baseline-findings', cohort)).toHaveLength(5);
  });

  it('counts in quarters of a financial year', () => {
    const plan = planWith({ firstMonthOfYear: 4 });
    const cohort = cohortOf([{ id: 'a', start: '2026-03-31' }], LATE, plan);
    expect(itemsUnder('teach-back', cohort, plan)).toEqual([['a', '2025-26 Q4', false]]);
  });
});

describe('first and second checkup', () => {
  const seen = (id: string, ...days: readonly number[]): AuditFoot => ({
    id,
    start: '2026-01-05',
    end: [60, 'finished'],
    seen: days.map(day => [day] as const),
  });

  it('takes both ends of the window', () => {
    const cohort = cohortOf([seen('10', 10), seen('11', 11), seen('17', 17), seen('18', 18)], LATE);
    expect(itemsUnder('first-checkup', cohort)).toEqual([
      ['10', '2026-Q1', false],
      ['11', '2026-Q1', true],
      ['17', '2026-Q1', true],
      ['18', '2026-Q1', false],
    ]);
    const second = cohortOf([seen('34', 34), seen('35', 35), seen('49', 14, 49), seen('50', 50)], LATE);
    expect(itemsUnder('second-checkup', second).map(([id, , met]) => [id, met])).toEqual([
      ['34', false],
      ['35', true],
      ['49', true],
      ['50', false],
    ]);
  });

  it('leaves out feet that left before the window closed, and windows still open at the cut-off', () => {
    const feet: readonly AuditFoot[] = [
      { id: 'left-16', start: '2026-01-05', end: [16, 'withdrawn'], seen: [[14]] },
      { id: 'left-17', start: '2026-01-05', end: [17, 'withdrawn'] },
      { id: 'open', start: '2026-02-01', seen: [[14]] },
      { id: 'closed', start: '2026-01-31', seen: [[14]] },
    ];
    // The window of a foot fitted on 31 January closes on 17 February, that of 1 February a day later.
    expect(itemsUnder('first-checkup', cohortOf(feet, '2026-02-17'))).toEqual([
      ['closed', '2026-Q1', true],
      ['left-17', '2026-Q1', false],
    ]);
  });

  it('counts in the quarter in which the window closed', () => {
    const feet = [
      { id: 'a', start: '2026-03-14', seen: [[14]] },
      { id: 'b', start: '2026-03-15', seen: [[14]] },
    ] as const;
    // Day 17 is 31 March and 1 April.
    expect(itemsUnder('first-checkup', cohortOf(feet, LATE))).toEqual([
      ['a', '2026-Q1', true],
      ['b', '2026-Q2', true],
    ]);
  });

  it('takes no baseline assessment for a checkup', () => {
    const cohort = cohortOf([{ id: 'a', start: '2026-01-05', baseline: [4, true, true] }], LATE, planWith());
    expect(itemsUnder('first-checkup', cohort)).toEqual([['a', '2026-Q1', false]]);
  });
});

describe('checkups on 15 and 12 hours', () => {
  const spell = (id: string, more: Partial<AuditFoot>): AuditFoot => ({
    id,
    start: '2026-01-01',
    ...more,
  });

  it('counts a spell that a step-down inside the window ended, by the checkup of that day', () => {
    const cohort = cohortOf(
      [
        // The 15-hour spell starts on day 40; its window is days 56 to 66.
        spell('on-time', {
          phases: [
            [0, 24],
            [40, 15],
            [61, 12],
          ],
          seen: [[61]],
        }),
        spell('unseen', {
          phases: [
            [0, 24],
            [40, 15],
            [61, 12],
          ],
        }),
        spell('first-day', {
          phases: [
            [0, 24],
            [40, 15],
            [56, 12],
          ],
          seen: [[56]],
        }),
        spell('too-soon', {
          phases: [
            [0, 24],
            [40, 15],
            [55, 12],
          ],
          seen: [[55]],
        }),
        spell('still', {
          phases: [
            [0, 24],
            [40, 15],
          ],
          seen: [[66]],
        }),
        spell('late', {
          phases: [
            [0, 24],
            [40, 15],
            [67, 12],
          ],
          seen: [[67]],
        }),
      ],
      LATE,
    );
    expect(itemsUnder('checkup-at-15-hours', cohort)).toEqual([
      ['first-day', '2026-Q1', true],
      ['late', '2026-Q1', false],
      ['on-time', '2026-Q1', true],
      ['still', '2026-Q1', true],
      ['unseen', '2026-Q1', false],
    ]);
  });

  it('counts finishing like a change of hours, and leaves out feet that left before the window closed', () => {
    const phases = [
      [0, 24],
      [40, 12],
    ] as const;
    const cohort = cohortOf(
      [
        spell('finished', { phases, end: [61, 'finished'], seen: [[61]] }),
        spell('finished-soon', { phases, end: [55, 'finished'], seen: [[55]] }),
        spell('withdrawn', { phases, end: [65, 'withdrawn'], seen: [[61]] }),
        spell('withdrawn-after', { phases, end: [66, 'withdrawn'] }),
      ],
      LATE,
    );
    expect(itemsUnder('checkup-at-12-hours', cohort)).toEqual([
      ['finished', '2026-Q1', true],
      ['withdrawn-after', '2026-Q1', false],
    ]);
  });

  it('waits until the window has closed', () => {
    const feet = [
      spell('a', {
        phases: [
          [0, 24],
          [40, 15],
        ],
        seen: [[61]],
      }),
    ];
    // Day 66 is 8 March 2026.
    expect(itemsUnder('checkup-at-15-hours', cohortOf(feet, '2026-03-07'))).toEqual([]);
    expect(itemsUnder('checkup-at-15-hours', cohortOf(feet, '2026-03-08'))).toEqual([['a', '2026-Q1', true]]);
  });

  it('counts every spell of a foot', () => {
    const phases = [
      [0, 15],
      [30, 24],
      [44, 15],
    ] as const;
    const cohort = cohortOf([spell('a', { phases, seen: [[21]] })], LATE);
    expect(itemsUnder('checkup-at-15-hours', cohort).map(([, , met]) => met)).toEqual([true, false]);
  });
});
