import stdBeta from '@stdlib/stats-base-dists-beta';
import stdBinomial from '@stdlib/stats-base-dists-binomial';
import stdChiSquare from '@stdlib/stats-base-dists-chisquare';
import stdF from '@stdlib/stats-base-dists-f';
import stdGamma from '@stdlib/stats-base-dists-gamma';
import stdHypergeometric from '@stdlib/stats-base-dists-hypergeometric';
import stdNormal from '@stdlib/stats-base-dists-normal';
import stdPoisson from '@stdlib/stats-base-dists-poisson';
import stdT from '@stdlib/stats-base-dists-t';
import { describe, expect, it } from 'vitest';
import * as d from '../../../src/statistics/distributions/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { errorCode, expectNear } from '../near.ts';

type Columns = Readonly<Record<string, readonly number[]>>;
const reference = referenceValues('distributions').values as Readonly<Record<string, Columns>>;

function expectEach(name: string, check: (row: Readonly<Record<string, number>>) => void): void {
  const columns = reference[name] ?? {};
  const rows = Object.values(columns)[0]?.length ?? 0;
  expect(rows).toBeGreaterThan(3);
  for (let i = 0; i < rows; i++) {
    check(Object.fromEntries(Object.entries(columns).map(([key, values]) => [key, values[i] ?? Number.NaN])));
  }
}

// R 4.2.2, printed at 17 digits; R itself rounds the last two or three.
describe('shared reference points', () => {
  it('normal', () => {
    expectEach('pnorm', ({ x = 0, p = 0, upper = 0 }) => {
      // R gives 0 at -38, below its smallest normal double; ours is the denormal 2.9e-316.
      if (p > 0) expectNear(d.normalCumulative(x), p, 1e-13);
      expectNear(d.normalUpperTail(x), upper, 1e-13);
    });
    expectEach('qnorm', ({ p = 0, q = 0 }) => expectNear(d.normalQuantile(p), q, 1e-14));
  });
  it('Student t', () => {
    expectEach('pt', ({ t = 0, df = 0, p = 0, q975 = 0 }) => {
      expectNear(d.studentTCumulative(t, df), p, 1e-13);
      expectNear(d.studentTQuantile(0.975, df), q975, 1e-11);
    });
  });
  it('chi-square', () => {
    expectEach('pchisq', ({ x = 0, df = 0, upper = 0, q95 = 0 }) => {
      expectNear(d.chiSquareUpperTail(x, df), upper, 1e-12);
      expectNear(d.chiSquareQuantile(0.95, df), q95, 1e-12);
    });
  });
  it('F', () => {
    expectEach('pf', row => {
      const { f = 0, df1 = 0, df2 = 0, upper = 0, q95 = 0 } = row;
      expectNear(d.fUpperTail(f, df1, df2), upper, 1e-12);
      expectNear(d.fQuantile(0.95, df1, df2), q95, 1e-12);
    });
  });
  it('beta', () => {
    expectEach('pbeta', ({ x = 0, a = 0, b = 0, p = 0, q025 = 0 }) => {
      expectNear(d.betaCumulative(x, a, b), p, 1e-13);
      expectNear(d.betaQuantile(0.025, a, b), q025, 1e-12);
    });
  });
  it('log gamma', () => expectEach('lgamma', ({ x = 0, v = 0 }) => expectNear(d.logGamma(x), v, 1e-14)));
});

// The @stdlib leaves are accurate to about 1e-11 in the middle and have no upper tails of their own.
describe('the @stdlib oracle in the middle of each distribution', () => {
  const points = [0.15, 0.4, 0.9, 1.7, 3.3, 6];
  it('continuous', () => {
    for (const x of points) {
      expectNear(d.normalCumulative(x), stdNormal.cdf(x, 0, 1), 1e-11);
      for (const df of [1, 2.5, 8, 40]) {
        expectNear(d.chiSquareCumulative(x, df), stdChiSquare.cdf(x, df), 1e-10);
        expectNear(d.gammaCumulative(x, df, 1.3), stdGamma.cdf(x, df, 1.3), 1e-10);
        expectNear(d.studentTCumulative(x, df), stdT.cdf(x, df), 1e-10);
        expectNear(d.fCumulative(x, df, 12), stdF.cdf(x, df, 12), 1e-10);
        expectNear(d.betaCumulative(x / 7, df, 2.2), stdBeta.cdf(x / 7, df, 2.2), 1e-10);
        expectNear(d.betaQuantile(x / 7, df, 2.2), stdBeta.quantile(x / 7, df, 2.2), 1e-9);
        expectNear(d.chiSquareQuantile(x / 7, df), stdChiSquare.quantile(x / 7, df), 1e-9);
      }
    }
  });
  it('discrete', () => {
    for (let k = 0; k <= 12; k++) {
      expectNear(d.binomialCumulative(k, 14, 0.37), stdBinomial.cdf(k, 14, 0.37), 1e-10);
      expectNear(d.poissonCumulative(k, 4.4), stdPoisson.cdf(k, 4.4), 1e-10);
      const urn = { size: 50, marked: 20, draws: 14 };
      expectNear(d.hypergeometricCumulative(k, urn), stdHypergeometric.cdf(k, 50, 20, 14), 1e-10);
    }
    for (const p of [0, 0.01, 0.2, 0.5, 0.77, 0.999]) {
      expect(d.binomialQuantile(p, 14, 0.37)).toBe(stdBinomial.quantile(p, 14, 0.37));
      expect(d.poissonQuantile(p, 4.4)).toBe(stdPoisson.quantile(p, 4.4));
      const urn = { size: 50, marked: 20, draws: 14 };
      expect(d.hypergeometricQuantile(p, urn)).toBe(stdHypergeometric.quantile(p, 50, 20, 14));
    }
  });
});

// Percentage points as printed in the usual tables (Fisher and Yates; Pearson and Hartley), quoted from memory.
describe('printed tables', () => {
  it.each([
    ['normal 2.5 %', d.normalQuantileUpper(0.025), '1.960'],
    ['normal 0.5 %', d.normalQuantileUpper(0.005), '2.576'],
    ['chi-square 5 %, 1 df', d.chiSquareQuantileUpper(0.05, 1), '3.841'],
    ['chi-square 5 %, 10 df', d.chiSquareQuantileUpper(0.05, 10), '18.307'],
    ['chi-square 1 %, 5 df', d.chiSquareQuantileUpper(0.01, 5), '15.086'],
    ['t 2.5 %, 4 df', d.studentTQuantileUpper(0.025, 4), '2.776'],
    ['t 0.5 %, 10 df', d.studentTQuantileUpper(0.005, 10), '3.169'],
    ['F 5 %, 3 and 12 df', d.fQuantileUpper(0.05, 3, 12), '3.490'],
  ])('%s', (_, value, printed) => {
    expect(value.toFixed(3)).toBe(printed);
  });
});

describe('quantiles undo the tails', () => {
  const small = [1e-300, 1e-120, 1e-17, 1e-6, 0.02, 0.3, 0.5, 0.8, 0.999];
  it.each(small)('at an upper tail of %d', q => {
    expectNear(d.normalUpperTail(d.normalQuantileUpper(q)), q, 2e-13);
    // A tail is steep in its quantile: the last bit of x moves it by x times the hazard, up to 700 bits.
    for (const df of [0.7, 1, 4, 31.5, 600]) {
      expectNear(d.chiSquareUpperTail(d.chiSquareQuantileUpper(q, df), df), q, 1e-12, `chi-square ${df}`);
      expectNear(d.fUpperTail(d.fQuantileUpper(q, df, 90), df, 90), q, 1e-12, `F ${df}`);
      // On 0.7 degrees of freedom the t of the smallest tails is beyond the largest double.
      if (q < 0.5 && (df >= 1 || q > 1e-200))
        expectNear(d.studentTUpperTail(d.studentTQuantileUpper(q, df), df), q, 1e-12, `t ${df}`);
      // With a shape of 0.7 the beta and gamma quantiles of the smallest tails are below the smallest double.
      if (df >= 1 || q > 1e-200)
        expectNear(d.betaCumulative(d.betaQuantile(q, df, 3), df, 3), q, 1e-12, `beta ${df}`);
      if (df >= 1 || q > 1e-200)
        expectNear(d.gammaCumulative(d.gammaQuantile(q, df, 2), df, 2), q, 1e-12, `gamma ${df}`);
    }
  });
  it('keeps the t quantile next to the median', () => {
    expectNear(d.studentTCumulative(d.studentTQuantile(0.5 + 1e-9, 5), 5), 0.5 + 1e-9, 1e-15);
    expect(d.studentTQuantile(0.5, 5)).toBe(0);
  });
});

describe('no tail is 0 by cancellation', () => {
  it('gives a p-value where one minus the lower tail is exactly 0', () => {
    expect(1 - d.chiSquareCumulative(200, 1)).toBe(0);
    expect(d.chiSquareUpperTail(200, 1)).toBeGreaterThan(1e-46);
    expect(d.twoSidedNormal(30)).toBeGreaterThan(1e-198);
    expect(d.fUpperTail(5000, 3, 400)).toBeGreaterThan(0);
    expect(d.binomialUpperTail(399, 400, 0.2)).toBeGreaterThan(1e-281);
    expect(d.chiSquareLogUpperTail(10_000, 2)).toBeCloseTo(-5000, 9);
  });
});

describe('ends and refusals', () => {
  it('gives 0, and a finite logarithm, for a normal tail far below the smallest double', () => {
    expect([d.normalUpperTail(1e16), d.twoSidedNormal(-1e16), d.normalDensity(1e16)]).toEqual([0, 0, 0]);
    expectNear(d.normalLogUpperTail(1e10), -5e19, 1e-15);
  });

  it('has the exact ends of each support', () => {
    expect(d.chiSquareUpperTail(0, 3)).toBe(1);
    expect(d.chiSquareUpperTail(-1, 3)).toBe(1);
    expect(d.fUpperTail(0, 3, 4)).toBe(1);
    expect(d.betaCumulative(1, 2, 2)).toBe(1);
    expect(d.betaQuantile(0, 2, 2)).toBe(0);
    expect(d.binomialCumulative(5, 5, 0.3)).toBe(1);
    expect(d.binomialCumulative(0, 5, 1)).toBe(0);
    expect(d.binomialUpperTail(0, 5, 0)).toBe(0);
    expect(d.poissonCumulative(0, 0)).toBe(1);
    expect(d.poissonQuantile(0.5, 0)).toBe(0);
    expect(d.hypergeometricUpperTail(-1, { size: 4, marked: 2, draws: 2 })).toBe(1);
    expect(d.normalUpperTail(Number.POSITIVE_INFINITY)).toBe(0);
    expect(d.studentTUpperTail(0, 3)).toBe(0.5);
    expect(d.studentTUpperTail(1e300, 3)).toBe(0);
  });
  it.each([
    ['out-of-range', () => d.normalQuantile(0)],
    ['out-of-range', () => d.normalQuantile(1)],
    ['out-of-range', () => d.chiSquareQuantile(0.5, 0)],
    ['out-of-range', () => d.chiSquareUpperTail(1, -1)],
    ['missing-value', () => d.chiSquareUpperTail(Number.NaN, 1)],
    ['missing-value', () => d.normalUpperTail(Number.NaN)],
    ['out-of-range', () => d.logGamma(0)],
    ['out-of-range', () => d.studentTQuantile(1e-300, 0.7)],
    ['out-of-range', () => d.betaQuantile(1.1, 1, 1)],
    ['not-a-whole-number', () => d.binomialCumulative(1.5, 4, 0.5)],
    ['out-of-range', () => d.binomialCumulative(1, 4, 1.5)],
    ['out-of-range', () => d.poissonCumulative(1, -2)],
    ['out-of-range', () => d.poissonQuantile(1, 2)],
    ['out-of-range', () => d.hypergeometricCumulative(1, { size: 4, marked: 5, draws: 2 })],
  ] as const)('refuses with %s', (code, call) => {
    expect(errorCode(call)).toBe(code);
  });
});
