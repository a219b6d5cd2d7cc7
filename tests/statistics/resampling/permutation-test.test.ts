import { describe, expect, it } from 'vitest';
import { permutationTest } from '../../../src/statistics/resampling/index.ts';
import { frozen } from '../relative.ts';

function difference(values: readonly number[]): (codes: Int32Array) => number {
  return codes => {
    const sums = [0, 0];
    const counts = [0, 0];
    for (const [i, code] of codes.entries()) {
      sums[code] = (sums[code] ?? 0) + (values[i] ?? 0);
      counts[code] = (counts[code] ?? 0) + 1;
    }
    return (sums[1] ?? 0) / (counts[1] ?? 1) - (sums[0] ?? 0) / (counts[0] ?? 1);
  };
}

describe('permutationTest', () => {
  it('agrees with the complete enumeration of 20 arrangements', () => {
    // Groups {1, 2, 4} and {3, 5, 9}: the difference of means is 10/3; of the 20 arrangements two have at least
    // that ({3, 5, 9}, {4, 5, 9}), and two by symmetry are at most its negative.
    const values = [1, 2, 4, 3, 5, 9];
    const group = frozen(['a', 'a', 'a', 'b', 'b', 'b']);
    const one = permutationTest({ group }, difference(values), {
      seed: 7,
      permutations: 19_999,
      alternative: 'greater',
    });
    expect(one.statistic).toBeCloseTo(10 / 3, 12);
    expect(Math.abs(one.pValue - 2 / 20)).toBeLessThan(4 * one.standardError);
    const both = permutationTest({ group }, difference(values), { seed: 7, permutations: 19_999 });
    expect(Math.abs(both.pValue - 4 / 20)).toBeLessThan(4 * both.standardError);
    const less = permutationTest({ group }, difference(values), {
      seed: 7,
      permutations: 19_999,
      alternative: 'less',
    });
    expect(Math.abs(less.pValue - 19 / 20)).toBeLessThan(4 * less.standardError);
  });

  it('labels move between clusters, never within', () => {
    const cluster = ['i1', 'i1', 'i2', 'i2', 'i3', 'i4', 'i4', 'i5'];
    const group = ['a', 'a', 'a', 'a', 'a', 'b', 'b', 'b'];
    permutationTest(
      { group, cluster },
      codes => {
        expect(codes[0]).toBe(codes[1]);
        expect(codes[2]).toBe(codes[3]);
        expect(codes[5]).toBe(codes[6]);
        return codes[0] ?? 0;
      },
      { seed: 1, permutations: 99 },
    );
  });

  it('is never 0, and the same for the same seed', () => {
    const values = Array.from({ length: 40 }, (_, i) => (i < 20 ? i : i + 1000));
    const group = values.map(value => (value < 500 ? 0 : 1));
    const test = permutationTest({ group }, difference(values), { seed: 5, permutations: 99 });
    expect(test.pValue).toBe(0.01);
    expect(permutationTest({ group }, difference(values), { seed: 5, permutations: 99 })).toEqual(test);
  });

  it('refuses one group, a cluster of two groups, and a statistic that is no number', () => {
    expect(() => permutationTest({ group: [1, 1] }, () => 0, { seed: 1 })).toThrow(/one label/);
    expect(() => permutationTest({ group: [1, 2], cluster: ['x', 'x'] }, () => 0, { seed: 1 })).toThrow(
      /holds two groups/,
    );
    expect(() => permutationTest({ group: [1, 2] }, () => Number.NaN, { seed: 1 })).toThrow(
      /statistic is NaN/,
    );
  });
});
