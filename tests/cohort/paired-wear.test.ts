import { describe, expect, it } from 'vitest';
import { cohortOf, footNamed, type HandMadeFoot } from './hand-made.ts';

const FEET: readonly HandMadeFoot[] = [
  {
    id: 'both',
    end: [8, 'finished'],
    phases: [[0, 24]],
    worn: [
      [0, [10, 11, 12, 13, undefined, 0, 16, 17, 18], 'sensor'],
      [1, [21, 22, undefined, 24, 25, 26, 27, 28]],
      [3, [1], 'recall'],
    ],
  },
  {
    id: 'never together',
    phases: [[0, 24]],
    worn: [
      [2, [20]],
      [3, [20], 'sensor'],
    ],
  },
  { id: 'diary only', phases: [[0, 24]], worn: [[2, [20, 20]]] },
  {
    id: 'break-in only',
    phases: [[0, 24]],
    worn: [
      [0, [20, 20]],
      [0, [20, 20], 'sensor'],
    ],
  },
  {
    id: 'no phase',
    worn: [
      [2, [20]],
      [2, [20], 'sensor'],
    ],
  },
];

describe('days with both a diary and a sensor', () => {
  it.each([
    ['sensor first', ['sensor', 'diary', 'recall']],
    ['recall alone', ['recall']],
  ])('are the adherence days with a row of each, whatever the order of sources: %s', (_, sourceOrder) => {
    const cohort = cohortOf(FEET, 40, { adherence: { sourceOrder } });
    // Adherence days are 2 to 7; day 3 has no diary, day 4 no sensor. A day of 0 hours is a day with data.
    expect(footNamed(cohort, 'both').pairedWear).toEqual({
      day: Int32Array.from([2, 5, 6, 7]),
      diary: Float64Array.from([22, 25, 26, 27]),
      sensor: Float64Array.from([12, 0, 16, 17]),
    });
    for (const { id } of FEET.slice(1)) expect(footNamed(cohort, id).pairedWear, id).toBeUndefined();
  });
});
