import { describe, expect, it } from 'vitest';
import { bcaInterval, bootstrap, bootstrapQuantile } from '../../../src/statistics/resampling/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { expectClose, frozen } from '../relative.ts';

const mean =
  (values: readonly number[]) =>
  (rows: Int32Array): number => {
    let sum = 0;
    for (const row of rows) sum += values[row] ?? 0;
    return sum / rows.length;
  };

describe('limits from given resamples', () => {
  // Reference: R 4.2.2, boot 1.3-28.1 (tests/reference/scripts/make-bootstrap.R).
  const reference = referenceValues('bootstrap-limits').values as {
    estimate: number;
    resampled: number[];
    jackknife: number[];
    limits: { level: number; percentile: number[]; bca: number[] }[];
  };
  const sorted = Float64Array.from(reference.resampled).sort();

  for (const { level, percentile, bca } of reference.limits) {
    it(`percentile and BCa at ${level}`, () => {
      const tail = (1 - level) / 2;
      expectClose([bootstrapQuantile(sorted, tail), bootstrapQuantile(sorted, 1 - tail)], percentile);
      const interval = bcaInterval(reference.estimate, sorted, reference.jackknife, tail);
      if (typeof interval === 'string') throw new Error(interval);
      expectClose([interval.lower, interval.upper], bca);
    });
  }

  it('at a level that meets order statistics the limits are those', () => {
    const values = Float64Array.from({ length: 99 }, (_, i) => i + 1);
    expect(bootstrapQuantile(values, 0.05)).toBe(5);
    expect(bootstrapQuantile(values, 0.95)).toBe(95);
    expect(bootstrapQuantile(values, 0.001)).toBe(1);
    expect(bootstrapQuantile(values, 0.999)).toBe(99);
  });
});

describe('bootstrap', () => {
  const values = frozen([4.1, 7.7, 2.2, 9.8, 5.5, 6.1, 3.9, 8.4, 1.2, 7.0, 6.6, 5.2]);
  const n = values.length;

  it('the error of a mean is the closed form, within its Monte Carlo error', () => {
    const result = bootstrap({ n }, mean(values), { seed: 3, resamples: 20_000 });
    const centre = values.reduce((sum, value) => sum + value, 0) / n;
    const exact = Math.sqrt(values.reduce((sum, value) => sum + (value - centre) ** 2, 0)) / n;
    expectClose(result.estimate, centre);
    // The relative error of a standard deviation from R values is about 1/sqrt(2 R) = 0.5 %.
    expect(Math.abs(result.standardError / exact - 1)).toBeLessThan(0.02);
    expect(Math.abs(result.bias)).toBeLessThan((4 * exact) / Math.sqrt(20_000));
    expect(result.undefinedResamples).toBe(0);
    expect(result.warnings).toEqual([]);
  });

  it('the acceleration of a mean is its skewness over 6 sqrt(n)', () => {
    // Efron 1987, section 3: for a mean, a = sum d^3 / (6 (sum d^2)^1.5) with d the deviations themselves.
    const centre = values.reduce((sum, value) => sum + value, 0) / n;
    const moment = (power: number): number =>
      values.reduce((sum, value) => sum + (value - centre) ** power, 0);
    const result = bootstrap({ n }, mean(values), { seed: 3 });
    expectClose(result.bca?.acceleration, moment(3) / (6 * moment(2) ** 1.5));
  });

  it('the same seed gives the same resamples, another seed others', () => {
    const one = bootstrap({ n }, mean(values), { seed: 8, resamples: 200 });
    const again = bootstrap({ n }, mean(values), { seed: 8, resamples: 200 });
    const other = bootstrap({ n }, mean(values), { seed: 9, resamples: 200 });
    expect(again).toEqual(one);
    expect(other.statistics).not.toEqual(one.statistics);
    // Pins the stream: a change of generator changes published limits and must be seen.
    expectClose(Array.from(one.statistics.slice(0, 3)), [66.3 / 12, 69.8 / 12, 80.1 / 12]);
  });

  it('weights count the rows drawn, and rows list them', () => {
    bootstrap(
      { n },
      (rows, weights) => {
        const count = new Float64Array(n);
        for (const row of rows) count[row] = (count[row] ?? 0) + 1;
        expect(weights).toEqual(count);
        return weights[0];
      },
      { seed: 1, resamples: 100, bca: false },
    );
  });

  it('clusters are drawn whole: two equal feet an infant double the variance of a mean', () => {
    const feet = values.flatMap(value => [value, value]);
    const infant = values.flatMap((_, i) => [`i${i}`, `i${i}`]);
    const clustered = bootstrap({ n: 2 * n, cluster: infant }, mean(feet), { seed: 4, resamples: 4000 });
    const single = bootstrap({ n }, mean(values), { seed: 4, resamples: 4000 });
    const naive = bootstrap({ n: 2 * n }, mean(feet), { seed: 4, resamples: 4000 });
    // Labels sort as text, so the draws differ; the errors agree within Monte Carlo error.
    expect(Math.abs(clustered.standardError / single.standardError - 1)).toBeLessThan(0.05);
    expect(Math.abs(clustered.standardError / naive.standardError / Math.SQRT2 - 1)).toBeLessThan(0.05);
    expectClose(clustered.bca?.acceleration, single.bca?.acceleration);
  });

  it('clusters of unequal size: every row of a drawn cluster comes along', () => {
    const cluster = [1, 1, 2, 3, 3];
    bootstrap(
      { n: 5, cluster },
      (_, weights) => {
        expect(weights[0]).toBe(weights[1]);
        expect(weights[3]).toBe(weights[4]);
        return 1 + (weights[2] ?? 0);
      },
      { seed: 1, resamples: 100 },
    );
  });

  it('counts and reports resamples without a statistic', () => {
    const result = bootstrap({ n }, (rows, weights) => (weights[0] === 0 ? undefined : mean(values)(rows)), {
      seed: 2,
      resamples: 1000,
    });
    expect(result.undefinedResamples).toBeGreaterThan(250);
    expect(result.statistics.length).toBe(1000 - result.undefinedResamples);
    expect(result.bca).toBeUndefined();
    expect(result.bcaReason).toMatch(/left out/);
    expect(result.warnings[0]).toMatch(/undefined in/);
  });

  it('a statistic that never varies has percentile limits and no BCa', () => {
    const result = bootstrap({ n }, () => 5, { seed: 2, resamples: 100 });
    expect(result.percentile).toEqual({ lower: 5, upper: 5 });
    expect(result.bcaReason).toMatch(/one side/);
  });

  it('refuses what it cannot resample', () => {
    expect(() => bootstrap({ n: 0 }, () => 1, { seed: 1 })).toThrow(/n is 0/);
    expect(() => bootstrap({ n: 1 }, () => 1, { seed: 1 })).toThrow(/one row or cluster/);
    expect(() => bootstrap({ n: 3, cluster: ['a', 'a'] }, () => 1, { seed: 1 })).toThrow(/cluster has 2/);
    expect(() => bootstrap({ n: 3 }, () => undefined, { seed: 1 })).toThrow(/undefined/);
    expect(() => bootstrap({ n: 3 }, () => 1, { seed: 0.5 })).toThrow(/seed/);
    expect(() => bootstrap({ n: 3 }, () => 1, { seed: 1, resamples: 10 })).toThrow(/resamples/);
  });
});
