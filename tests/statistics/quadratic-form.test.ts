import { describe, expect, it } from 'vitest';
import { quadraticForm } from '../../src/statistics/quadratic-form.ts';
import { expectNear } from './near.ts';

describe('quadratic form in the inverse of a covariance', () => {
  it('is u V^-1 u: for u = (1, 2), V = ((2, 1), (1, 3)) it is (3 - 4 + 8) / 5', () => {
    const found = quadraticForm(
      [1, 2],
      [
        [2, 1],
        [1, 3],
      ],
    );
    expectNear(found.value, 7 / 5, 1e-14);
    expect(found.rank).toBe(2);
  });

  it('leaves out rows that depend on others', () => {
    const full = quadraticForm(
      [1, -1],
      [
        [2, -2],
        [-2, 2],
      ],
    );
    expectNear(full.value, 0.5, 1e-14);
    expect(full.rank).toBe(1);
    expect(
      quadraticForm(
        [0, 3],
        [
          [0, 0],
          [0, 9],
        ],
      ),
    ).toEqual({ value: 1, rank: 1 });
    expect(quadraticForm([0], [[0]])).toEqual({ value: 0, rank: 0 });
  });
});
