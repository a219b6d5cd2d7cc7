import { describe, expect, it } from 'vitest';
import { poolEstimates, pooledWaldTest } from '../../../src/statistics/missing-data/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { expectClose, frozen } from '../relative.ts';

// Reference: mice 3.15.0, pool.scalar (tests/reference/scripts/make-reference.R).
interface Scalar {
  readonly n: number | string;
  readonly k: number;
  readonly qbar: number;
  readonly ubar: number;
  readonly b: number;
  readonly t: number;
  readonly df: number;
  readonly r: number;
  readonly lambda: number;
  readonly fmi: number;
  readonly se: number;
  readonly ci95: number[];
  readonly tStat: number;
  readonly p: number;
}
const reference = referenceValues('mi-pool').values as {
  q: number[];
  u: number[];
  scalarInf: Scalar;
  scalar100: Scalar;
  scalar30: Scalar;
};

describe('poolEstimates against reference values', () => {
  for (const key of ['scalarInf', 'scalar100', 'scalar30'] as const) {
    it(`five estimates, ${key}`, () => {
      const expected = reference[key];
      const complete = typeof expected.n === 'number' ? expected.n - expected.k : undefined;
      const pooled = poolEstimates(frozen({ estimate: reference.q, variance: reference.u }), {
        completeDegreesOfFreedom: complete,
      });
      expectClose(
        [
          pooled.estimate,
          pooled.withinVariance,
          pooled.betweenVariance,
          pooled.totalVariance,
          pooled.degreesOfFreedom,
          pooled.relativeIncrease,
          pooled.missingShare,
          pooled.missingInformation,
          pooled.standardError,
          pooled.t,
          pooled.pValue,
        ],
        [
          expected.qbar,
          expected.ubar,
          expected.b,
          expected.t,
          expected.df,
          expected.r,
          expected.lambda,
          expected.fmi,
          expected.se,
          expected.tStat,
          expected.p,
        ],
      );
      expectClose([pooled.lower, pooled.upper], expected.ci95);
    });
  }

  it('equal estimates of a large sample are normal, without infinite degrees of freedom', () => {
    const pooled = poolEstimates({ estimate: [2, 2, 2], variance: [1, 1, 1] });
    expect(pooled.degreesOfFreedom).toBeUndefined();
    expectClose(pooled.upper, 2 + 1.959963984540054);
    expectClose(pooled.pValue, 0.04550026389635842);
    expect(pooled.missingInformation).toBe(0);
  });

  it('refuses one estimate, a variance of 0 and impossible degrees of freedom', () => {
    expect(() => poolEstimates({ estimate: [1], variance: [1] })).toThrow(/at least two/);
    expect(() => poolEstimates({ estimate: [1, 2], variance: [1, 0] })).toThrow(/variance\[1\] is 0/);
    expect(() => poolEstimates({ estimate: [1, 2], variance: [1] })).toThrow(/variance has 1/);
    expect(() =>
      poolEstimates({ estimate: [1, 2], variance: [1, 1] }, { completeDegreesOfFreedom: 0 }),
    ).toThrow(/completeDegreesOfFreedom/);
  });
});

describe('pooledWaldTest', () => {
  it('for one coefficient is the square of t, on the degrees of freedom of the formula', () => {
    const test = pooledWaldTest({
      coefficients: reference.q.map(value => [value]),
      covariances: reference.u.map(value => [[value]]),
    });
    expectClose(test.statistic, reference.scalarInf.tStat ** 2);
    expectClose(test.relativeIncrease, reference.scalarInf.r);
    // t = m - 1 = 4 is not above 4: nu = t (1 + 1/k) (1 + 1/r)^2 / 2 = 4 (1 + 1/r)^2, Rubin's 1987 value.
    expectClose(test.degreesOfFreedom[1], reference.scalarInf.df);
    expectClose(test.pValue, reference.scalarInf.p);
  });

  it('two coefficients by hand', () => {
    // q = (2, 1), U = diag(1, 4); B from deviations (1, 0), (-1, 0): B = diag(2, 0); r = 1.5 * 2 / 2 = 1.5.
    const covariance = [
      [1, 0],
      [0, 4],
    ];
    const test = pooledWaldTest({
      coefficients: [
        [3, 1],
        [1, 1],
      ],
      covariances: [covariance, covariance],
    });
    expectClose(test.relativeIncrease, 1.5);
    expectClose(test.statistic, (4 + 0.25) / (2 * 2.5));
    expectClose(test.degreesOfFreedom[1], (2 * 1.5 * (1 + 1 / 1.5) ** 2) / 2);
  });

  it('refuses shapes that do not agree', () => {
    expect(() => pooledWaldTest({ coefficients: [[1]], covariances: [[[1]]] })).toThrow(/two are needed/);
    expect(() => pooledWaldTest({ coefficients: [[1], [1, 2]], covariances: [[[1]], [[1]]] })).toThrow(
      /coefficients\[1\] has 2/,
    );
    expect(() => pooledWaldTest({ coefficients: [[1], [2]], covariances: [[[0]], [[0]]] })).toThrow(
      /positive definite/,
    );
  });
});
