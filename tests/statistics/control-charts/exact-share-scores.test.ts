import { describe, expect, it } from 'vitest';
import { exactShareScores } from '../../../src/statistics/control-charts/exact-share-scores.ts';
import { expectClose } from '../relative.ts';

describe('exactShareScores', () => {
  it('is the normal score of mid-P, divided by the root of the design effect', () => {
    // R 4.2.2: qnorm((pbinom(k, n, p) + pbinom(k - 1, n, p))/2) below, and the same from above.
    const reference = [-1.2584600023000638, -5.301087121913576, 2.281338916759724, 0.53812609224788632];
    expectClose(Array.from(exactShareScores([30, 20, 36, 5], [36, 36, 36, 5], 0.9).z), reference, 1e-9);
    const wide = exactShareScores([30, 20, 36, 5], [36, 36, 36, 5], 0.9, 1.44).z;
    expectClose(
      Array.from(wide),
      reference.map(z => z / 1.2),
      1e-9,
    );
    expect(exactShareScores([30], [36], 0.9, 0.5).z).toEqual(exactShareScores([30], [36], 0.9).z);
  });

  it('has limits at the outermost counts that are not beyond three sigma', () => {
    for (const [n, p, effect] of [
      [36, 0.9, 1],
      [12, 0.5, 1],
      [40, 0.02, 1.6],
      [7, 0.99, 1],
    ] as const) {
      const counts = Array.from({ length: n + 1 }, (_, k) => k);
      const all = exactShareScores(
        counts,
        counts.map(() => n),
        p,
        effect,
      );
      const inside = counts.filter(k => Math.abs(all.z[k] ?? 9) < 3);
      expect(all.lower[0]).toBe((inside[0] ?? -1) / n);
      expect(all.upper[0]).toBe((inside.at(-1) ?? -1) / n);
    }
  });

  it('keeps the side of the centre, and is 0 on it', () => {
    const { z } = exactShareScores([9, 8, 10, 0], [10, 10, 10, 10], 0.9);
    expect(z[0]).toBe(0);
    expect(z[1]).toBeLessThan(0);
    expect(z[2]).toBeGreaterThan(0);
    expect(z[3]).toBeLessThan(-3);
  });

  it('takes centres at either end, where any other count is far beyond', () => {
    expect(exactShareScores([10, 9], [10, 10], 1).z).toEqual(Float64Array.of(0, -38));
    expect(exactShareScores([0, 1], [10, 10], 0)).toEqual({
      z: Float64Array.of(0, 38),
      lower: Float64Array.of(0, 0),
      upper: Float64Array.of(0, 0),
    });
  });
});
