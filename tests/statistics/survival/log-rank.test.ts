import { describe, expect, it } from 'vitest';
import { logRankTest, pairwiseLogRank } from '../../../src/statistics/survival/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { errorCode, expectNear } from '../near.ts';
import { placebo, sixMercaptopurine } from './remission-times.ts';
import { type Fields, rowsOf } from './rows.ts';

// Reference: survdiff, R package survival 3.5-3, and the textbook formulas written out in the script.

interface Part {
  readonly groups: readonly string[];
  readonly n: readonly number[];
  readonly observed: readonly number[];
  readonly expected: readonly number[];
  readonly variance: readonly (readonly number[])[];
  readonly chisq: number;
  readonly df: number;
  readonly p: number;
  readonly trendChisq?: number;
  readonly trendP?: number;
}

const withEcog = (row: Readonly<Record<string, string>>) => row['ph.ecog'] !== '';
const lung = { time: 'time', event: 'status', eventValue: '2' };

const files: readonly (readonly [string, string, Fields, boolean?])[] = [
  ['logrank-aml', 'aml', { time: 'time', event: 'status', group: 'x' }],
  ['logrank-lung-sex', 'lung', { ...lung, group: 'sex' }],
  ['logrank-lung-sex-strata-ecog', 'lung', { ...lung, group: 'sex', strata: 'ph.ecog' }, true],
  ['logrank-lung-ecog', 'lung', { ...lung, group: 'ph.ecog' }, true],
  ['logrank-veteran', 'veteran', { time: 'time', event: 'status', group: 'celltype' }],
];

const weights: Readonly<Record<string, { readonly rho?: number; readonly gamma?: number }>> = {
  survdiffRho0: {},
  survdiffRho1: { rho: 1 },
  survdiffRhoHalf: { rho: 0.5 },
  handLogrank: {},
  handFH10: { rho: 1 },
  handFH01: { gamma: 1 },
  handFH11: { rho: 1, gamma: 1 },
};

function expectPart(found: ReturnType<typeof logRankTest>, expected: Part, label: string): void {
  expect(found.groups.map(g => g.n)).toEqual(expected.n);
  for (const [g, row] of found.groups.entries()) {
    expectNear(row.observed, expected.observed[g] ?? 0, 1e-9, `${label} observed`);
    expectNear(row.expected, expected.expected[g] ?? 0, 1e-9, `${label} expected`);
    for (const [h, value] of (expected.variance[g] ?? []).entries()) {
      expectNear(found.covariance[g]?.[h], value, 1e-9, `${label} covariance`);
    }
  }
  expectNear(found.statistic, expected.chisq, 1e-9, `${label} statistic`);
  expect(found.degreesOfFreedom).toBe(expected.df);
  expectNear(found.pValue, expected.p, 1e-9, `${label} p-value`);
}

describe('log-rank tests against reference values', () => {
  for (const [file, name, fields, complete] of files) {
    it(`${file}: seven weightings, covariance, trend`, () => {
      const values = referenceValues(file).values as Readonly<Record<string, Part>>;
      const rows = rowsOf(name, fields, complete ? withEcog : undefined);
      for (const [part, options] of Object.entries(weights)) {
        const expected = values[part];
        if (!expected) throw new Error(`${file} has no ${part}`);
        const scores = expected.groups.map((_, g) => g + 1);
        const found = logRankTest(rows, { ...options, scores });
        expectPart(found, expected, `${file} ${part}`);
        if (expected.trendChisq === undefined) continue;
        expectNear(found.trend?.statistic, expected.trendChisq, 1e-9, `${file} ${part} trend`);
        expectNear(found.trend?.pValue, expected.trendP ?? 0, 1e-9, `${file} ${part} trend p-value`);
      }
    });
  }

  it('logrank-heart-lefttrunc: late entry', () => {
    const values = referenceValues('logrank-heart-lefttrunc').values as { hand: Part; coxScoreExact: number };
    const rows = rowsOf('heart', { time: 'stop', event: 'event', entry: 'start', group: 'transplant' });
    const found = logRankTest(rows);
    expectPart(found, values.hand, 'heart');
    expectNear(found.statistic, values.coxScoreExact, 1e-9, 'exact partial-likelihood score');
  });

  it('logrank-hr: the one-step hazard ratio follows from observed, expected and covariance', () => {
    const values = referenceValues('logrank-hr').values as { petoLogHr: number; se: number; oeRatio: number };
    const found = logRankTest(rowsOf('lung', { ...lung, group: 'sex' }));
    const [a, b] = found.groups;
    const v = found.covariance[1]?.[1] ?? 0;
    expectNear(((b?.observed ?? 0) - (b?.expected ?? 0)) / v, values.petoLogHr);
    expectNear(1 / Math.sqrt(v), values.se);
    const ratio = (b?.observed ?? 0) / (b?.expected ?? 0) / ((a?.observed ?? 0) / (a?.expected ?? 1));
    expectNear(ratio, values.oeRatio);
  });

  it('logrank-pairwise: every pair, with adjusted p-values', () => {
    interface Pairs {
      readonly a: readonly string[];
      readonly b: readonly string[];
      readonly chisq: readonly number[];
      readonly p: readonly number[];
      readonly holm: readonly number[];
      readonly bh: readonly number[];
    }
    const values = referenceValues('logrank-pairwise').values as Readonly<Record<string, Pairs>>;
    const veteran = rowsOf('veteran', { time: 'time', event: 'status', group: 'celltype' });
    const cases = [
      [values.veteranCelltype, veteran, 0],
      [values.veteranCelltypeRho1, veteran, 1],
      [values.lungEcog, rowsOf('lung', { ...lung, group: 'ph.ecog' }, withEcog), 0],
    ] as const;
    for (const [expected, rows, rho] of cases) {
      const holm = pairwiseLogRank(rows, { rho });
      const hochberg = pairwiseLogRank(rows, { rho, adjust: 'benjamini-hochberg' });
      const none = pairwiseLogRank(rows, { rho, adjust: 'none' });
      expect(holm.map(pair => pair.groups)).toEqual(expected?.a.map((a, i) => [a, expected.b[i]]));
      for (const [i, pair] of holm.entries()) {
        expectNear(pair.statistic, expected?.chisq[i] ?? 0);
        expectNear(pair.pValue, expected?.p[i] ?? 0);
        expectNear(pair.adjustedPValue, expected?.holm[i] ?? 0);
        expectNear(hochberg[i]?.adjustedPValue, expected?.bh[i] ?? 0);
        expect(none[i]?.adjustedPValue).toBe(pair.pValue);
      }
    }
  });
});

describe('log-rank test, worked by hand', () => {
  // At 1: 4 at risk, 2 in each group, 1 event in a. At 2: 3 at risk, 1 in a, 2 in b; 2 events, one in each.
  const data = { time: [2, 1, 3, 2], event: [1, 1, 0, 1], group: ['b', 'a', 'b', 'a'] };

  it('expects 1/2 + 2/3 in a, with variance 1/4 + 2 (1/2) (2/9)', () => {
    const found = logRankTest(data);
    expect(found.groups.map(g => g.observed)).toEqual([2, 1]);
    expectNear(found.groups[0]?.expected, 1 / 2 + 2 / 3, 1e-15);
    const variance = 1 / 4 + (2 * (3 - 2) * (1 / 3) * (2 / 3)) / 2;
    expectNear(found.covariance[0]?.[0], variance, 1e-15);
    expectNear(found.statistic, (2 - 7 / 6) ** 2 / variance, 1e-14);
  });

  it('weights the second time by S(2-) = 3/4 with rho 1, and by 1/4 with gamma 1', () => {
    expectNear(logRankTest(data, { rho: 1 }).groups[0]?.observed, 1 + 3 / 4, 1e-15);
    expectNear(logRankTest(data, { gamma: 1 }).groups[0]?.observed, 1 / 4, 1e-15);
  });

  it('is the same with a table of times and groups as with a list of rows', () => {
    // 2 n + 1024 cells decide which is used: spreading the times out by strata forces the list.
    const n = 2_000;
    const time = Array.from({ length: n }, (_, i) => 1 + ((i * 7919) % 997) + (i % 3) / 8);
    const event = time.map((_, i) => (i % 5 === 0 ? 0 : 1));
    const group = time.map((_, i) => 'abc'[i % 3] ?? '');
    const fine = logRankTest({ time, event, group });
    const rank = new Map([...new Set(time)].sort((a, b) => a - b).map((t, i) => [t, i]));
    const whole = logRankTest({
      time: time.map(t => rank.get(t) ?? 0),
      event,
      group,
      strata: time.map(() => 'one'),
    });
    expectNear(whole.statistic, fine.statistic, 1e-12);
    const split = logRankTest({ time, event, group, entry: time.map(() => 0) });
    expectNear(split.statistic, fine.statistic, 1e-12);
  });

  it('remission times (Freireich et al. 1963): observed 9 and 21, expected 19.25 and 10.75, statistic 16.79', () => {
    // Printed in Kleinbaum and Klein, Survival Analysis, chapter 2.
    const time = [...sixMercaptopurine.time, ...placebo.time];
    const event = [...sixMercaptopurine.event, ...placebo.event];
    const group = time.map((_, i) => (i < 21 ? '6-MP' : 'placebo'));
    const found = logRankTest({ time, event, group });
    expect(found.groups.map(g => g.observed)).toEqual([9, 21]);
    expect(found.groups.map(g => g.expected.toFixed(2))).toEqual(['19.25', '10.75']);
    expect(found.statistic.toFixed(2)).toBe('16.79');
    expect(found.pValue).toBeLessThan(0.0001);
  });

  it('takes no degree of freedom for a group that is never at risk at an event', () => {
    const found = logRankTest({
      time: [5, 6, 7, 8, 1],
      event: [1, 1, 1, 1, 0],
      group: ['a', 'b', 'a', 'b', 'c'],
    });
    expect(found.degreesOfFreedom).toBe(1);
    const named = logRankTest(data, { groups: ['c', 'b', 'a'] });
    expect(named.groups[0]).toEqual({ group: 'c', n: 0, observed: 0, expected: 0 });
    expect(named.degreesOfFreedom).toBe(1);
  });

  it('refuses what it cannot test, by name', () => {
    expect(errorCode(() => logRankTest({ ...data, group: ['a', 'a', 'a', 'a'] }))).toBe('one-group');
    expect(errorCode(() => pairwiseLogRank({ ...data, group: ['a', 'a', 'a', 'a'] }))).toBe('one-group');
    expect(errorCode(() => logRankTest({ ...data, event: [0, 0, 0, 0] }))).toBe('no-events');
    expect(errorCode(() => logRankTest({ time: [1, 2], event: [0, 1], group: ['a', 'b'] }))).toBe(
      'no-events',
    );
    expect(errorCode(() => logRankTest(data, { scores: [1] }))).toBe('length');
    expect(errorCode(() => logRankTest(data, { scores: [2, 2] }))).toBe('out-of-range');
    expect(errorCode(() => logRankTest(data, { rho: -1 }))).toBe('out-of-range');
    expect(errorCode(() => logRankTest({ ...data, strata: ['x'] }))).toBe('length');
    expect(errorCode(() => logRankTest(data, { groups: ['a'] }))).toBe('out-of-range');
  });
});
