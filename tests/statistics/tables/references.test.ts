import { describe, expect, it } from 'vitest';
import { chiSquareTest, fisherExact, mantelHaenszel } from '../../../src/statistics/tables/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { expectLimits, expectNear, expectReference } from '../near.ts';

interface Larger {
  readonly table: readonly (readonly number[])[];
  readonly fisherP: number;
  readonly chisq: number;
  readonly df: number;
  readonly p: number;
  readonly g2: number;
  readonly cramersV: number;
  readonly adjustedResiduals: readonly (readonly number[])[];
}

// R 4.2.2: fisher.test and chisq.test.
const larger = referenceValues('fisher-rxc').values as Readonly<Record<string, Larger>>;
describe.each(Object.entries(larger).filter(([, row]) => 'fisherP' in row))('larger table %s', (_, row) => {
  it('has the exact p-value', () => {
    // 1e-7 is R's own slack for tables as probable as the observed one.
    expectNear(fisherExact(row.table).pValue, row.fisherP, 1e-9);
  });
  it('does not depend on which way the table lies', () => {
    const turned = (row.table[0] ?? []).map((_, j) => row.table.map(cells => cells[j] ?? Number.NaN));
    expectNear(fisherExact(turned).pValue, row.fisherP, 1e-9);
  });
  it('has the chi-square test', () => {
    const test = chiSquareTest(row.table);
    expectNear(test.statistic, row.chisq, 1e-11);
    expect(test.degreesOfFreedom).toBe(row.df);
    expectNear(test.pValue, row.p, 1e-11);
    expectNear(test.likelihoodRatio.statistic, row.g2, 1e-11);
    expectNear(test.cramersV, row.cramersV, 1e-11);
    for (const [i, line] of row.adjustedResiduals.entries()) {
      for (const [j, residual] of line.entries()) expectNear(test.adjustedResiduals[i]?.[j], residual, 1e-10);
    }
  });
});

// R 4.2.2, fisher.test(table, workspace = 2e8).
describe('larger tables still', () => {
  it.each([
    [
      0.106497186182976,
      [
        [3, 5, 2, 8, 1],
        [6, 2, 4, 3, 3],
        [1, 7, 5, 2, 6],
        [4, 4, 4, 1, 2],
      ],
    ],
    [
      0.00453704120039502,
      [
        [8, 5, 1, 4],
        [2, 5, 9, 6],
        [12, 3, 4, 8],
        [9, 9, 9, 1],
      ],
    ],
    [
      0.0132721707213355,
      [
        [20, 30, 40],
        [25, 30, 31],
        [20, 9, 8],
      ],
    ],
  ] as const)('p-value %d', (expected, table) => {
    // R merges partial tables more coarsely: its own error shows at about 3e-12 in the last of these.
    expectNear(fisherExact(table).pValue, expected, 1e-10);
  });
});

interface Fourfold {
  readonly x1: number;
  readonly n1: number;
  readonly x2: number;
  readonly n2: number;
  readonly confLevel: number;
  readonly fisherP: number;
  readonly fisherLess: number;
  readonly fisherGreater: number;
  readonly fisherOr: number | string;
  readonly fisherOrCi: readonly (number | string)[];
  readonly chisqYates: number;
  readonly chisqYatesP: number;
  readonly chisq: number;
  readonly chisqP: number;
  readonly expected: readonly (readonly number[])[];
}
const fourfold = referenceValues('two-proportions').values as readonly Fourfold[];

describe('fourfold tables', () => {
  it.each(fourfold)('$x1/$n1 and $x2/$n2 at $confLevel', row => {
    const table = [
      [row.x1, row.n1 - row.x1],
      [row.x2, row.n2 - row.x2],
    ];
    const exact = fisherExact(table, { level: row.confLevel });
    expectNear(exact.pValue, row.fisherP, 1e-10);
    expectNear(fisherExact(table, { alternative: 'less' }).pValue, row.fisherLess, 1e-10);
    expectNear(fisherExact(table, { alternative: 'greater' }).pValue, row.fisherGreater, 1e-10);
    // R stops its search at about 1e-4 of the odds ratio or its reciprocal, so 1e-2 (exact values below); an outcome that never
    // happened has 0 there, and no estimate here.
    const never = row.x1 + row.x2 === 0;
    expectReference(exact.estimate, never ? undefined : row.fisherOr, 1e-2, 'odds ratio');
    expectLimits(exact, row.fisherOrCi, 1e-2);
    if (row.chisqP === null) return;
    const plain = chiSquareTest(table);
    expectNear(plain.statistic, row.chisq, 1e-10);
    expectNear(plain.pValue, row.chisqP, 1e-10);
    expect(plain.expected.flat().length).toBe(4);
    for (const [i, line] of row.expected.entries()) {
      for (const [j, mean] of line.entries()) expectNear(plain.expected[i]?.[j], mean, 1e-13);
    }
    const corrected = chiSquareTest(table, { continuity: true });
    expectNear(corrected.statistic, row.chisqYates, 1e-10);
    expectNear(corrected.pValue, row.chisqYatesP, 1e-10);
  });
});

interface Conditional {
  readonly x1: number;
  readonly n1: number;
  readonly x2: number;
  readonly n2: number;
  readonly confLevel: number;
  readonly estimate: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}
// Bisection at 50 digits, by tests/reference/scripts/make-fisher-conditional.py.
const conditional = referenceValues('fisher-conditional').values as readonly Conditional[];

describe('conditional odds ratio', () => {
  it.each(conditional)('$x1/$n1 and $x2/$n2 at $confLevel', row => {
    const table = [
      [row.x1, row.n1 - row.x1],
      [row.x2, row.n2 - row.x2],
    ];
    const exact = fisherExact(table, { level: row.confLevel });
    for (const part of ['estimate', 'lower', 'upper'] as const) {
      expectReference(exact[part], row[part], 1e-11, part);
    }
  });
});

interface Stratified {
  readonly tables: readonly (readonly (readonly number[])[])[];
  readonly orMH: number;
  readonly ciRobinsBreslowGreenland: readonly [number, number];
  readonly cmhCorrected: number;
  readonly cmhCorrectedP: number;
  readonly cmh: number;
  readonly cmhP: number;
  readonly breslowDay: number;
  readonly breslowDayTarone: number;
  readonly breslowDayDf: number;
  readonly rrMH: number;
  readonly rrMHSeLog: number;
}
const stratified = referenceValues('mantel-haenszel').values as Readonly<Record<string, Stratified>>;

describe.each(Object.entries(stratified))('stratified %s', (_, row) => {
  it('agrees in odds ratio, test, risk ratio and homogeneity', () => {
    const test = mantelHaenszel(row.tables);
    expectNear(test.estimate, row.orMH, 1e-12);
    expectNear(test.lower, row.ciRobinsBreslowGreenland[0], 1e-11);
    expectNear(test.upper, row.ciRobinsBreslowGreenland[1], 1e-11);
    expectNear(test.statistic, row.cmh, 1e-11);
    expectNear(test.pValue, row.cmhP, 1e-11);
    const corrected = mantelHaenszel(row.tables, { continuity: true });
    expectNear(corrected.statistic, row.cmhCorrected, 1e-11);
    expectNear(corrected.pValue, row.cmhCorrectedP, 1e-11);
    expectNear(test.riskRatio.estimate, row.rrMH, 1e-12);
    // The interval's width on the log scale, over twice 1.96, is the reference's standard error.
    const width = Math.log(test.riskRatio.upper ?? 0) - Math.log(test.riskRatio.lower ?? 0);
    expectNear(width / (2 * 1.959963984540054), row.rrMHSeLog, 1e-10);
    expectNear(test.breslowDay?.statistic, row.breslowDay, 1e-9);
    expectNear(test.breslowDay?.tarone.statistic, row.breslowDayTarone, 1e-9);
    expect(test.breslowDay?.degreesOfFreedom).toBe(row.breslowDayDf);
  });
});
