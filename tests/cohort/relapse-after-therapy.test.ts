import { describe, expect, it } from 'vitest';
import type { HandMadeFoot } from './hand-made.ts';
import { cohortOf, PAST, stepDownsNamed } from './hand-made.ts';

// docs/definitions.md, Relapse after a step-down: the end of the weeks after therapy. Therapy ends on day 84, so 12 weeks
// on is day 168, and a foot last seen on day 154 or later is followed to it.
const follow = { kind: 'follow-up' } as const;

function foot(id: string, ...seen: readonly (readonly [number, number | undefined])[]): HandMadeFoot {
  return {
    id,
    end: [84, 'finished'],
    phases: [
      [0, 24],
      [42, 12],
    ],
    seen: [[0, 3, PAST], ...seen.map(([day, position]) => [day, position, PAST, follow] as const)],
  };
}

const FEET = [
  foot('day-153', [153, 3]),
  foot('day-154', [154, 3], [120, 3]),
  foot('day-160-without-position', [160, undefined], [130, 3]),
  foot('worse-on-160', [160, 3.5], [126, 3]),
  foot('free-on-160-worse-on-168', [168, 3.5], [160, 3]),
  foot('worse-on-169', [169, 3.5]),
];

function lastOf(id: string, cutOff: number, fields: object = {}) {
  const last = stepDownsNamed(cohortOf(FEET, cutOff, fields), id).at(-1);
  return [last?.step, last?.daysAtRisk, last?.cause];
}

describe('relapse after the end of therapy', () => {
  it.each([
    ['day-153', 69, 0],
    ['day-154', 84, 0],
    ['day-160-without-position', 46, 0],
    ['worse-on-160', 76, 1],
    ['free-on-160-worse-on-168', 84, 1],
    ['worse-on-169', 84, 0],
  ])('follows %s for %i days', (id, days, cause) => {
    expect(lastOf(id, 200)).toEqual(['12 to none', days, cause]);
  });

  it('never follows a foot past the cut-off', () => {
    expect(lastOf('day-154', 161)).toEqual(['12 to none', 77, 0]);
    expect(lastOf('day-154', 154)).toEqual(['12 to none', 70, 0]);
  });

  it('lets each foot leave on the day it was last seen when the plan says so', () => {
    const strict = { relapse: { lastSeenWithinDays: 0 } };
    expect(lastOf('day-154', 200, strict)).toEqual(['12 to none', 70, 0]);
    expect(lastOf('worse-on-169', 200, strict)).toEqual(['12 to none', 84, 0]);
  });
});
