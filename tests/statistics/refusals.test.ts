import { describe, expect, it } from 'vitest';
import * as p from '../../src/statistics/proportions/index.ts';
import * as k from '../../src/statistics/ranks/index.ts';
import * as r from '../../src/statistics/rates/index.ts';
import * as t from '../../src/statistics/tables/index.ts';
import { errorCode } from './near.ts';

const large = [
  [20, 30, 40, 20],
  [25, 30, 31, 10],
  [20, 9, 8, 30],
  [14, 15, 16, 17],
];

describe('what cannot be used is refused by name', () => {
  it.each([
    ['empty', 'no trials', () => p.wilsonInterval(0, 0)],
    ['out-of-range', 'more successes than trials', () => p.wilsonInterval(5, 4)],
    ['out-of-range', 'negative', () => p.clopperPearsonInterval(-1, 4)],
    ['not-a-whole-number', 'a fraction', () => p.clopperPearsonInterval(1.5, 4)],
    ['missing-value', 'missing', () => p.wilsonInterval(Number.NaN, 4)],
    ['not-finite', 'infinite', () => p.wilsonInterval(1, Number.POSITIVE_INFINITY)],
    ['out-of-range', 'level 1', () => p.wilsonInterval(1, 4, { level: 1 })],
    ['out-of-range', 'level 95', () => p.clopperPearsonInterval(1, 4, { level: 95 })],
    ['empty', 'second group empty', () => p.newcombeDifference(1, 4, 0, 0)],
    ['out-of-range', 'second group', () => p.riskRatio(1, 4, 5, 3)],
    ['not-a-whole-number', 'odds', () => p.oddsRatio(1, 4, 0.5, 3)],
    ['length', 'not fourfold', () => p.mcnemar([[1, 2, 3]])],
    [
      'empty',
      'no pairs',
      () =>
        p.mcnemar([
          [0, 0],
          [0, 0],
        ]),
    ],
    ['one-group', 'one group', () => p.trendInProportions([3], [10])],
    ['length', 'lengths', () => p.trendInProportions([3, 4], [10])],
    ['no-events', 'no success', () => p.trendInProportions([0, 0], [10, 12])],
    ['no-events', 'all succeed', () => p.trendInProportions([10, 12], [10, 12])],
    ['empty', 'an empty group', () => p.trendInProportions([1, 0], [10, 0])],
    ['out-of-range', 'equal scores', () => p.trendInProportions([1, 2], [10, 10], { scores: [3, 3] })],
    ['length', 'too few scores', () => p.trendInProportions([1, 2], [10, 10], { scores: [3] })],
    [
      'empty',
      'row of zeros',
      () =>
        t.chiSquareTest([
          [0, 0],
          [3, 4],
        ]),
    ],
    [
      'empty',
      'column of zeros',
      () =>
        t.chiSquareTest([
          [0, 1],
          [0, 4],
        ]),
    ],
    ['empty', 'no rows', () => t.chiSquareTest([])],
    ['one-group', 'one row', () => t.chiSquareTest([[1, 2]])],
    ['length', 'ragged', () => t.chiSquareTest([[1, 2], [3]])],
    [
      'out-of-range',
      'negative count',
      () =>
        t.fisherExact([
          [1, -2],
          [3, 4],
        ]),
    ],
    [
      'not-a-whole-number',
      'fractional count',
      () =>
        t.fisherExact([
          [1, 2.5],
          [3, 4],
        ]),
    ],
    [
      'empty',
      'row of zeros',
      () =>
        t.fisherExact([
          [0, 0],
          [3, 4],
        ]),
    ],
    ['one-group', 'one column', () => t.fisherExact([[1], [2]])],
    ['out-of-range', 'too large', () => t.fisherExact(large)],
    [
      'out-of-range',
      'too many first cells',
      () =>
        t.fisherExact([
          [9e6, 8e6],
          [9e6, 8e6],
        ]),
    ],
    ['unknown-option', 'no direction', () => t.fisherExact(large, { alternative: 'less' })],
    ['empty', 'no strata', () => t.mantelHaenszel([])],
    [
      'length',
      'a larger stratum',
      () =>
        t.mantelHaenszel([
          [
            [1, 2, 3],
            [1, 2, 3],
          ],
        ]),
    ],
    [
      'empty',
      'an empty stratum',
      () =>
        t.mantelHaenszel([
          [
            [0, 0],
            [0, 0],
          ],
        ]),
    ],
    [
      'no-events',
      'nothing to compare',
      () =>
        t.mantelHaenszel([
          [
            [0, 3],
            [0, 4],
          ],
        ]),
    ],
    ['out-of-range', 'no time', () => r.poissonRateInterval(1, 0)],
    ['out-of-range', 'negative events', () => r.poissonRateInterval(-1, 3)],
    ['not-a-whole-number', 'fractional events', () => r.rateRatio(1, 3, 1.2, 4)],
    ['out-of-range', 'negative time', () => r.rateDifference(1, 3, 1, -4)],
    ['empty', 'no values', () => k.wilcoxonRankSum([], [1])],
    ['missing-value', 'a missing value', () => k.wilcoxonRankSum([1, Number.NaN], [1])],
    ['not-finite', 'an infinite value', () => k.wilcoxonRankSum([1], [Number.POSITIVE_INFINITY])],
    ['one-group', 'one group', () => k.kruskalWallis({ value: [1, 2], group: ['a', 'a'] })],
    ['length', 'lengths', () => k.dunnTest({ value: [1, 2], group: ['a'] })],
    [
      'empty',
      'a named group without values',
      () => k.jonckheereTerpstra({ value: [1, 2], group: ['a', 'b'] }, { order: ['a', 'b', 'c'] }),
    ],
    [
      'out-of-range',
      'a group not named',
      () => k.jonckheereTerpstra({ value: [1, 2], group: ['a', 'd'] }, { order: ['a', 'b'] }),
    ],
    ['constant-covariate', 'constant x', () => k.spearman([2, 2, 2], [1, 2, 3])],
    ['constant-covariate', 'constant y', () => k.kendall([1, 2, 3], [1, 1, 1])],
    ['empty', 'two pairs', () => k.spearman([1, 2], [1, 2])],
    ['unknown-option', 'exact with ties', () => k.kendall([1, 1, 2], [1, 2, 3], { method: 'exact' })],
  ] as const)('%s: %s', (code, _, call) => {
    expect(errorCode(call)).toBe(code);
  });
});

describe('degenerate but usable input has a named result', () => {
  it('has no odds ratio where the outcome never happened', () => {
    const table = [
      [0, 10],
      [0, 20],
    ];
    expect(t.fisherExact(table)).toEqual({ pValue: 1, lower: 0 });
    expect(p.riskRatio(0, 10, 0, 20)).toEqual({ estimate: undefined, lower: undefined, upper: undefined });
    expect(p.oddsRatio(0, 10, 3, 20)).toEqual({ estimate: 0, lower: undefined, upper: undefined });
  });
  it('has an open end where an odds or rate ratio is infinite', () => {
    const exact = t.fisherExact([
      [5, 0],
      [2, 6],
    ]);
    expect(exact.estimate).toBeUndefined();
    expect(exact.upper).toBeUndefined();
    expect(exact.lower).toBeGreaterThan(1);
    const ratio = r.rateRatio(4, 10, 0, 10);
    expect([ratio.estimate, ratio.upper]).toEqual([undefined, undefined]);
    expect(ratio.lower).toBeGreaterThan(0);
    expect(r.rateRatio(0, 10, 0, 12)).toEqual({ estimate: undefined, lower: 0, upper: undefined, pValue: 1 });
  });
  it('has p-value 1 where all values are equal', () => {
    expect(k.wilcoxonRankSum([3, 3], [3, 3, 3]).pValue).toBe(1);
    const data = { value: [2, 2, 2, 2], group: ['a', 'a', 'b', 'b'] };
    expect(k.kruskalWallis(data)).toMatchObject({ statistic: 0, pValue: 1 });
    expect(k.dunnTest(data)[0]).toMatchObject({ statistic: 0, pValue: 1, adjustedPValue: 1 });
    expect(k.jonckheereTerpstra(data)).toMatchObject({ statistic: 2, z: 0, pValue: 1 });
    expect(
      p.mcnemar([
        [4, 0],
        [0, 5],
      ]),
    ).toMatchObject({ statistic: 0, pValue: 1, exactPValue: 1, midPValue: 1 });
  });
  it('holds more than one rank correlation tail for far too regular data', () => {
    const x = Array.from({ length: 30 }, (_, i) => i);
    // The series has nothing left above 0 here; Student's t stands in, and the result says so.
    const rho = k.spearman(
      x,
      x.map(i => (i === 3 ? 4.5 : i)),
    );
    expect(rho.method).toBe('t');
    expect(rho.pValue).toBeGreaterThan(0);
  });
});
