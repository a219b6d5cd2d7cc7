import { describe, expect, it } from 'vitest';
import { phaseOccupancy } from '../../src/analyses/index.ts';
import type { CourseSample } from '../../src/analyses/courses.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { cohortOf, type HandMadeFoot, PAST, planWith, SHORT } from '../cohort/hand-made.ts';
import { sampleCohort } from './sample.ts';

function courses(shown: number, minimumFeet: number, seed = 1): Plan {
  return planWith({ seed, figures: { courses: { shown, minimumFeet } } });
}

// Eight infants. The first: corrected on day 45 (6.4 weeks), worse on day 66 after 15 hours (relapse, 9.4 weeks).
const FEET: readonly HandMadeFoot[] = [
  {
    id: 'a',
    end: [87, 'finished'],
    seen: [
      [0, 4, SHORT],
      [45, 2, PAST],
      [66, 3, PAST],
    ],
    phases: [
      [0, 24],
      [45, 15],
      [84, 12],
    ],
  },
  ...['b', 'c', 'd', 'e', 'f', 'g', 'h'].map(
    (id, i): HandMadeFoot => ({
      id,
      seen: [[0, 3, SHORT]],
      phases: [[0, 24]],
      end: [7 * (i + 2), 'withdrawn'],
    }),
  ),
];

function sampleOf(feet: readonly HandMadeFoot[], plan: Plan): CourseSample | undefined {
  return phaseOccupancy(cohortOf(feet, 130, plan), plan).finding.courses;
}

describe('courses drawn to be looked at', () => {
  it('are rounded to whole weeks, a stretch that vanishes left out', () => {
    // With one in four of eight infants, some seed draws foot a; a stretch of 3 days at its end rounds to nothing.
    const drawn = Array.from({ length: 40 }, (_, seed) => sampleOf(FEET, courses(30, 8, seed)));
    const a = drawn.flatMap(sample => sample?.courses ?? []).find(({ end }) => end === 'finished');
    expect(a).toEqual({
      stretches: [
        { state: '24 hours', from: 0, to: 6 },
        { state: '15 hours', from: 6, to: 12 },
      ],
      end: 'finished',
      corrected: 6,
      relapses: [9],
    });
  });

  it('are one in four infants at most, the longest first, and the same for the same seed', () => {
    const sample = sampleOf(FEET, courses(30, 8));
    expect(sample?.courses).toHaveLength(2);
    expect(sample).toMatchObject({ n: 8, infants: 8, states: ['24 hours', '15 hours', '12 hours'] });
    const ends = sample?.courses.map(({ stretches }) => stretches.at(-1)?.to ?? 0) ?? [];
    expect(ends[0]).toBeGreaterThanOrEqual(ends[1] ?? 0);
    expect(sampleOf(FEET, courses(30, 8))).toEqual(sample);
    const all = new Set(
      Array.from({ length: 20 }, (_, seed) => JSON.stringify(sampleOf(FEET, courses(30, 8, seed)))),
    );
    expect(all.size).toBeGreaterThan(3);
  });

  it('are none among few feet, and as few as the plan says', () => {
    expect(sampleOf(FEET, courses(30, 9))).toBeUndefined();
    expect(sampleOf(FEET, courses(1, 8))?.courses).toHaveLength(1);
    expect(sampleOf(FEET, courses(0, 0))).toBeUndefined();
    expect(sampleOf(FEET.slice(0, 3), courses(30, 0))).toBeUndefined();
    expect(sampleOf([], courses(30, 0))).toBeUndefined();
  });

  it('take one foot of an infant', () => {
    const twins = ['p', 'q', 'r', 's'].flatMap((infant): HandMadeFoot[] =>
      (['left', 'right'] as const).map(side => ({
        id: `${infant}-${side}`,
        infant,
        side,
        seen: [[0, 3, SHORT]],
        phases: [[0, 24]],
        end: [side === 'left' ? 70 : 35, 'withdrawn'],
      })),
    );
    const sample = sampleOf(twins, courses(30, 8));
    expect(sample).toMatchObject({ n: 8, infants: 4 });
    expect(sample?.courses).toHaveLength(1);
  });

  it('hold no code of the sample export', async () => {
    const plan = planWith();
    const cohort = await sampleCohort(plan);
    const text = JSON.stringify(phaseOccupancy(cohort, plan).finding.courses);
    expect(text.length).toBeGreaterThan(1000);
    const codes = cohort.feet.flatMap(({ episode, infant, site }) => [episode, infant, site]);
    expect(codes.filter(code => text.includes(code))).toEqual([]);
  });
});
