// Standards of the later course, of docs/definitions.md, section Audit standards, on feet whose answer was worked out on paper.
import { describe, expect, it } from 'vitest';
import { type AuditFoot, cohortOf, itemsUnder } from './hand-made.ts';

const LATE = '2026-12-31';

describe('skin review', () => {
  it('takes blisters and sores whose 7 days have passed, reviewed on the day to 7 days later', () => {
    const cohort = cohortOf(
      [
        {
          id: 'a',
          start: '2026-01-01',
          end: [100, 'finished'],
          events: [
            [5, 'blister', 5],
            [10, 'pressure sore', 17],
            [20, 'blister', 28],
            [30, 'blister'],
            [40, 'strong redness', 41],
            [101, 'blister', 102],
          ],
        },
        // 24 December is seven days before the cut-off, 25 December six.
        {
          id: 'b',
          start: '2026-10-01',
          events: [
            [84, 'blister', 85],
            [85, 'blister', 86],
          ],
        },
      ],
      LATE,
    );
    expect(itemsUnder('skin-review', cohort)).toEqual([
      ['a', '2026-Q1', true],
      ['a', '2026-Q1', true],
      ['a', '2026-Q1', false],
      ['a', '2026-Q1', false],
      ['b', '2026-Q4', true],
    ]);
  });
});

describe('no step-down while worse', () => {
  const stepped = (id: string, ...seen: readonly (readonly [number, number?])[]): AuditFoot => ({
    id,
    start: '2026-01-01',
    baseline: [4, true, true],
    phases: [
      [0, 24],
      [42, 15],
    ],
    seen,
  });

  it('compares the last two positions up to the day, the last at most 7 days old', () => {
    const cohort = cohortOf(
      [
        stepped('better', [42, 3.5]),
        stepped('equal', [42, 4]),
        stepped('worse', [42, 4.5]),
        stepped('worse-before', [21, 3], [35, 3.5]),
        stepped('too-old', [34, 4.5]),
        stepped('after', [43, 4.5]),
        stepped('blank', [35, 4.5], [42]),
        { ...stepped('alone', [42, 4.5]), baseline: [undefined, true, true] },
      ],
      LATE,
    );
    expect(itemsUnder('no-step-down-while-worse', cohort)).toEqual([
      ['better', '2026-Q1', true],
      ['blank', '2026-Q1', false],
      ['equal', '2026-Q1', true],
      ['worse', '2026-Q1', false],
      ['worse-before', '2026-Q1', false],
    ]);
  });

  it('takes finishing for a step-down', () => {
    const cohort = cohortOf([{ ...stepped('a', [42, 3], [90, 3.5]), end: [90, 'finished'] }], LATE);
    expect(itemsUnder('no-step-down-while-worse', cohort)).toEqual([
      ['a', '2026-Q1', true],
      ['a', '2026-Q2', false],
    ]);
  });
});

describe('closed with a reason', () => {
  // 26 weeks after 1 January 2026 is 2 July; the third quarter ends on 30 September, day 272.
  const open = (id: string, more: Partial<AuditFoot> = {}): AuditFoot => ({
    id,
    start: '2026-01-01',
    ...more,
  });

  it('is met by an end within the quarter or a visit in its last six weeks', () => {
    const cohort = cohortOf(
      [
        open('ended', { end: [272, 'moved away'] }),
        open('ended-after', { end: [273, 'moved away'] }),
        open('seen', { seen: [[230]] }),
        open('seen-before', { seen: [[229]] }),
        open('seen-after', { seen: [[273]] }),
        open('never'),
      ],
      LATE,
    );
    expect(itemsUnder('closed-with-reason', cohort)).toEqual([
      ['ended', '2026-Q3', true],
      ['ended-after', '2026-Q3', false],
      ['never', '2026-Q3', false],
      ['seen', '2026-Q3', true],
      ['seen-after', '2026-Q3', false],
      ['seen-before', '2026-Q3', false],
    ]);
  });

  it('looks at the cut-off while the quarter goes on, and waits for the 26 weeks', () => {
    const feet = [open('seen', { seen: [[145]] })];
    expect(itemsUnder('closed-with-reason', cohortOf(feet, '2026-07-01'))).toEqual([]);
    // Day 187 is 7 July, 42 days after day 145.
    expect(itemsUnder('closed-with-reason', cohortOf(feet, '2026-07-07'))).toEqual([
      ['seen', '2026-Q3', true],
    ]);
    expect(itemsUnder('closed-with-reason', cohortOf(feet, '2026-07-08'))).toEqual([
      ['seen', '2026-Q3', false],
    ]);
  });
});

describe('lost to follow-up', () => {
  it('counts episodes in the quarter in which they ended, those in therapy not at all', () => {
    const cohort = cohortOf(
      [
        { id: 'finished', start: '2026-01-01', end: [89, 'finished'] },
        { id: 'lost', start: '2026-01-01', end: [90, 'lost to follow-up'] },
        { id: 'open', start: '2026-01-01' },
      ],
      LATE,
    );
    expect(itemsUnder('lost-to-follow-up', cohort)).toEqual([
      ['finished', '2026-Q1', true],
      ['lost', '2026-Q2', false],
    ]);
  });
});
