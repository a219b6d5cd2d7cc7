import { describe, expect, it } from 'vitest';
import { grayTest } from '../../../src/statistics/competing-risks/index.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { errorCode, expectNear } from '../near.ts';

interface Part {
  readonly groups?: readonly string[];
  readonly score: readonly number[];
  readonly variance: readonly (readonly number[])[];
  readonly stat: number;
  readonly df: number;
  readonly p: number;
}

const myeloma = dataset('mgus2_cr');
const time = Object.freeze(numbers(myeloma, 'etime'));
const cause = Object.freeze(numbers(myeloma, 'event'));
const sex = Object.freeze(myeloma.map(row => row.sex ?? ''));
const age = numbers(myeloma, 'age');
const ageGroup = age.map(a => (a <= 60 ? '(0,60]' : a <= 75 ? '(60,75]' : '(75,120]'));
const older = age.map(a => (a > 72 ? 1 : 0));
const waiting = dataset('transplant');
const codes: Readonly<Record<string, number>> = { censored: 0, death: 1, ltx: 2, withdraw: 3 };
const transplant = {
  time: numbers(waiting, 'futime'),
  cause: waiting.map(row => codes[row.event ?? ''] ?? Number.NaN),
  group: waiting.map(row => row.abo ?? ''),
};

describe("Gray's test against reference values", () => {
  // Reference: cuminc, R package cmprsk 2.2-11, with scores and variances by formula in the script.
  const parts = referenceValues('gray-parts').values as Readonly<Record<string, readonly Part[]>>;
  const cases = [
    ['mgusSex', { time, cause, group: sex }, 0],
    ['mgusSexRho1', { time, cause, group: sex }, 1],
    ['mgusAge3', { time, cause, group: ageGroup }, 0],
    ['transplantAbo', transplant, 0],
    ['mgusSexStratAge', { time, cause, group: sex, strata: older }, 0],
  ] as const;
  for (const [name, data, rho] of cases) {
    it(`${name}: score, covariance, statistic and p-value for each cause`, () => {
      for (const [i, expected] of (parts[name] ?? []).entries()) {
        const found = grayTest(data, { cause: i + 1, rho });
        for (const [g, score] of expected.score.entries())
          expectNear(found.groups[g]?.score, score, 1e-9, 'score');
        for (const [a, row] of expected.variance.entries()) {
          for (const [b, v] of row.entries()) expectNear(found.covariance[a]?.[b], v, 1e-9, 'covariance');
        }
        expectNear(found.statistic, expected.stat, 1e-9, 'statistic');
        expect(found.degreesOfFreedom).toBe(expected.df);
        expectNear(found.pValue, expected.p, 1e-9, 'p-value');
      }
    });
  }

  it('cuminc-gray: statistics and p-values of the package', () => {
    interface Tests {
      readonly causes: readonly string[];
      readonly stat: readonly number[];
      readonly p: readonly number[];
    }
    const values = referenceValues('cuminc-gray').values as Readonly<
      Record<string, Tests & { gray?: Tests }>
    >;
    for (const [name, data, rho] of cases) {
      const tests = values[name]?.gray ?? values[name];
      for (const [i, label] of (tests?.causes ?? []).entries()) {
        const found = grayTest(data, { cause: Number(label), rho });
        expectNear(found.statistic, tests?.stat[i] ?? 0, 1e-9, name);
        // The package forms the tail as one minus the other, so below 1e-16 it prints 0.
        expect(Math.abs(found.pValue - (tests?.p[i] ?? 0))).toBeLessThan(1e-15 + 1e-9 * found.pValue);
        expect(found.pValue).toBeGreaterThan(0);
      }
    }
  });
});

describe("Gray's test, worked by hand", () => {
  // At 1: group a (2 of 3 rows at risk shares) one event of cause 1; at 2: b, cause 2; at 3: b, cause 1; at 4
  // a censored.
  const data = { time: [3, 1, 4, 2], cause: [1, 1, 0, 2], group: ['b', 'a', 'a', 'b'] };

  it('keeps those with another cause in the risk set', () => {
    // At 1 both groups count 2, expected of a 1/2. At 3: a has 1 at risk with F = S = 1/2, so R = 1 (1 - 1/2)
    // / (1/2) = 1;
    // b has 1 at risk with F = 0, S = 1/2, so R = 2: expected of a 1/3.
    const found = grayTest(data, { cause: 1 });
    expectNear(found.groups[0]?.score, 1 - 1 / 2 - 1 / 3, 1e-14);
    expectNear(found.groups[1]?.score, -(1 - 1 / 2 - 1 / 3), 1e-14);
    expect(found.degreesOfFreedom).toBe(1);
  });

  it('does not depend on the order of rows or of groups', () => {
    const order = [2, 0, 3, 1];
    const shuffled = {
      time: order.map(i => data.time[i] ?? 0),
      cause: order.map(i => data.cause[i] ?? 0),
      group: order.map(i => data.group[i] ?? ''),
    };
    const statistic = grayTest(data, { cause: 1 }).statistic;
    expectNear(grayTest(shuffled, { cause: 1 }).statistic, statistic, 1e-12);
    expectNear(grayTest(data, { cause: 1, groups: ['b', 'a'] }).statistic, statistic, 1e-12);
    expectNear(grayTest(data, { cause: 1, groups: ['b', 'c', 'a'] }).statistic, statistic, 1e-12);
  });

  it('refuses what it cannot test, by name', () => {
    expect(errorCode(() => grayTest({ ...data, group: ['a', 'a', 'a', 'a'] }, { cause: 1 }))).toBe(
      'one-group',
    );
    expect(errorCode(() => grayTest(data, { cause: 7 }))).toBe('no-events');
    expect(errorCode(() => grayTest({ ...data, cause: [0, 0, 0, 0] }, { cause: 1 }))).toBe('no-events');
    expect(errorCode(() => grayTest(data, { cause: 1, rho: -1 }))).toBe('out-of-range');
    expect(errorCode(() => grayTest({ ...data, strata: [1] }, { cause: 1 }))).toBe('length');
    expect(errorCode(() => grayTest({ ...data, time: [1, 2, 3, Number.NaN] }, { cause: 1 }))).toBe(
      'missing-value',
    );
  });
});
