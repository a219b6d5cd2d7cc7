import { describe, expect, it } from 'vitest';
import * as d from '../../../src/statistics/distributions/index.ts';
import { poolEstimates } from '../../../src/statistics/missing-data/index.ts';
import { expectNear } from '../near.ts';

/** Upper tails by numerical integration of the density with 60 digits (mpmath 1.3.0), good to about 1e-12. */
const TAILS = [
  [1e6, 0.3, 0.3820886089894971],
  [1e6, 1.96, 0.024998033792634895],
  [1e6, 6, 9.869249061772174e-10],
  [1e6, 20, 2.866543523693227e-89],
  [1e7, 0.3, 0.3820885809288927],
  [1e7, 1.96, 0.024997909012657093],
  [1e7, 6, 9.866213666838918e-10],
  [1e7, 20, 2.764715603476963e-89],
  [1e9, 0.3, 0.38208857784222583],
  [1e9, 1.96, 0.024997895286864795],
  [1e9, 6, 9.865879822492458e-10],
  [1e9, 20, 2.753734815814518e-89],
  [1e12, 0.3, 0.3820885778110785],
  [1e12, 1.96, 0.024997895148359078],
  [1e12, 6, 9.865876453749096e-10],
  [1e12, 20, 2.75362422929937e-89],
  [1e20, 0.3, 0.3820885778110474],
  [1e20, 20, 2.753624118606234e-89],
] as const;

/** The t with 2.5 % and 1e-20 above it, by root-finding on those integrals. */
const QUANTILES = [
  [1e6, 1.959966356814107, 9.262541065291659],
  [1e7, 1.9599642217672055, 9.262360187016228],
  [1e9, 1.9599639869123255, 9.26234029077022],
  [1e12, 1.9599639845424266, 9.262340089999379],
  [1e20, 1.9599639845400543, 9.262340089798407],
] as const;

describe('Student t on very many degrees of freedom', () => {
  it.each(TAILS)('on %d has the tail beyond %d', (df, t, upper) => {
    // At 20 the reference itself is good to 7e-13, as the normal tail there shows.
    expectNear(d.studentTUpperTail(t, df), upper, 2e-12);
    expectNear(d.studentTCumulative(-t, df), upper, 2e-12);
    expectNear(d.twoSidedStudentT(t, df), 2 * upper, 2e-12);
    expectNear(Math.exp(d.studentTLogUpperTail(t, df)), upper, 1e-12);
  });

  it.each(QUANTILES)('on %d has its quantiles', (df, q975, far) => {
    expectNear(d.studentTQuantile(0.975, df), q975, 1e-14);
    expectNear(d.studentTQuantile(0.025, df), -q975, 1e-14);
    expectNear(d.studentTQuantileUpper(1e-20, df), far, 1e-14);
  });

  it('goes over without a step', () => {
    for (const t of [0.01, 1, 2.5, 8]) {
      const below = d.studentTUpperTail(t, 1e6 - 1e-3);
      expectNear(d.studentTUpperTail(t, 1e6), below, 1e-9);
    }
    expectNear(d.studentTQuantile(0.975, 1e6), d.studentTQuantile(0.975, 1e6 - 1e-3), 1e-10);
  });

  it('is sound at the ends', () => {
    expect(d.studentTUpperTail(0, 1e9)).toBe(0.5);
    expect(d.studentTUpperTail(Infinity, 1e9)).toBe(0);
    expect(d.studentTUpperTail(1e200, 1e300)).toBe(0);
    expect(Number.isNaN(d.studentTLogUpperTail(1e160, 1e300))).toBe(false);
    expect(d.studentTQuantile(0.5, 1e12)).toBe(0);
    expectNear(d.studentTQuantile(0.975, 1e305), 1.9599639845400543, 1e-14);
  });
});

describe('pooling where the completed tables agree', () => {
  // The mean of equal doubles may be off by its last digit: degrees of freedom of 1e61 to 1e65, limits once 1e23 off.
  it.each([0.1, 0.3, 0.7])('gives the normal interval round %d', estimate => {
    for (const m of [2, 5, 10, 20]) {
      const pooled = poolEstimates({
        estimate: Array.from({ length: m }, () => estimate),
        variance: Array.from({ length: m }, () => 0.04),
      });
      expectNear(pooled.lower, estimate - 0.2 * 1.9599639845400543, 1e-12);
      expectNear(pooled.upper, estimate + 0.2 * 1.9599639845400543, 1e-12);
      expectNear(pooled.standardError, 0.2, 1e-12);
    }
  });
});
