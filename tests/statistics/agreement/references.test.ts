import { describe, expect, it } from 'vitest';
import {
  agreementTable,
  cohensKappa,
  intraclassCorrelation,
  blandAltman,
} from '../../../src/statistics/agreement/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { errorCode, expectNear } from '../near.ts';

interface KappaRow {
  readonly kappa: number;
  readonly po: number;
  readonly pe: number;
  readonly se: number;
  readonly seNull: number;
  readonly z: number;
  readonly ci95: readonly [number, number];
}
interface KappaTable {
  readonly unweighted: KappaRow;
  readonly linear: KappaRow;
  readonly quadratic: KappaRow;
  readonly table: readonly (readonly number[])[];
}

// By the formulas of Fleiss, Cohen and Everitt (1969), in tests/reference/scripts/make-reference.R.
const kappas = Object.entries(referenceValues('kappa').values as Readonly<Record<string, KappaTable>>).filter(
  ([, row]) => 'table' in row,
);

describe.each(kappas)('kappa of table %s', (_, row) => {
  it.each([
    ['none', row.unweighted],
    ['linear', row.linear],
    ['quadratic', row.quadratic],
  ] as const)('with weights %s', (weights, expected) => {
    const kappa = cohensKappa(row.table, { weights });
    expectNear(kappa.estimate, expected.kappa, 1e-12);
    expectNear(kappa.observedAgreement, expected.po, 1e-14);
    expectNear(kappa.expectedAgreement, expected.pe, 1e-14);
    expectNear(kappa.standardError, expected.se, 1e-11);
    expectNear(kappa.nullStandardError, expected.seNull, 1e-11);
    expectNear(kappa.statistic, expected.z, 1e-11);
    expectNear(kappa.lower, expected.ci95[0], 1e-11);
    expectNear(kappa.upper, expected.ci95[1], 1e-11);
  });
  it('is the same from two arrays of labels as from the table', () => {
    const first: string[] = [];
    const second: string[] = [];
    for (const [i, line] of row.table.entries()) {
      for (const [j, count] of line.entries()) {
        for (let c = 0; c < count; c++) {
          first.push(`grade ${i}`);
          second.push(`grade ${j}`);
        }
      }
    }
    expect(agreementTable(first, second).table).toEqual(row.table);
    expect(cohensKappa({ first, second }, { weights: 'linear' })).toEqual(
      cohensKappa(row.table, { weights: 'linear' }),
    );
  });
});

describe('kappa at its edges', () => {
  it('is 1 for full agreement over several categories', () => {
    const kappa = cohensKappa([
      [5, 0],
      [0, 7],
    ]);
    expect(kappa.estimate).toBe(1);
    expect(kappa.standardError).toBeCloseTo(0, 12);
  });
  it('is undefined if both used one category throughout', () => {
    const kappa = cohensKappa([
      [12, 0],
      [0, 0],
    ]);
    expect(kappa.estimate).toBeUndefined();
    expect(kappa.pValue).toBeUndefined();
    expect(kappa.observedAgreement).toBe(1);
    expect(cohensKappa({ first: ['mild', 'mild'], second: ['mild', 'mild'] }).estimate).toBeUndefined();
  });
  it('keeps the order of categories given, which weights need', () => {
    const first = ['mild', 'severe', 'moderate', 'severe', 'mild', 'moderate'];
    const second = ['mild', 'moderate', 'moderate', 'severe', 'moderate', 'mild'];
    const options = { weights: 'linear', categories: ['mild', 'moderate', 'severe'] } as const;
    // By hand: observed (3 + 3/2)/6 = 3/4; margins 2 2 2 and 2 3 1, expected 2(7/2 + 9/2 + 5/2)/36 = 21/36.
    expectNear(cohensKappa({ first, second }, options).estimate, (3 / 4 - 21 / 36) / (1 - 21 / 36), 1e-12);
  });
  it.each([
    [
      'length',
      () =>
        cohensKappa([
          [1, 2, 3],
          [4, 5, 6],
        ]),
    ],
    [
      'empty',
      () =>
        cohensKappa([
          [0, 0],
          [0, 0],
        ]),
    ],
    [
      'out-of-range',
      () =>
        cohensKappa([
          [1, -2],
          [3, 4],
        ]),
    ],
    [
      'not-a-whole-number',
      () =>
        cohensKappa([
          [1, 0.5],
          [3, 4],
        ]),
    ],
    ['empty', () => cohensKappa({ first: [], second: [] })],
    ['length', () => cohensKappa({ first: ['a', 'b'], second: ['a'] })],
    ['out-of-range', () => cohensKappa({ first: ['a'], second: ['c'] }, { categories: ['a', 'b'] })],
  ] as const)('refuses with %s', (code, call) => {
    expect(errorCode(call)).toBe(code);
  });
});

type Limits = readonly [number, number];
interface Ratings {
  readonly data: readonly (readonly number[])[];
  readonly msRows: number;
  readonly msCols: number;
  readonly msError: number;
  readonly msWithin: number;
  readonly icc11: number;
  readonly icc11Ci: Limits;
  readonly icc21: number;
  readonly icc21Ci: Limits;
  readonly icc31: number;
  readonly icc31Ci: Limits;
  readonly icc1k: number;
  readonly icc2k: number;
  readonly icc3k: number;
  readonly icc2kCi: Limits;
  readonly f: number;
}
interface IntraclassValues {
  readonly sf: Ratings;
  readonly peak: Ratings;
  readonly psychSf: {
    readonly f: readonly number[];
    readonly lower: readonly number[];
    readonly upper: readonly number[];
  };
  readonly blandAltman: {
    readonly bias: number;
    readonly sd: number;
    readonly lower: number;
    readonly upper: number;
    readonly biasCi: Limits;
    readonly seLimitsApprox: number;
  };
}
const intraclass = referenceValues('icc').values as IntraclassValues;

// Shrout and Fleiss 1979, table 2 (six targets, four judges), and Bland and Altman 1986, table 1 (peak flow).
describe.each([
  ['Shrout and Fleiss', intraclass.sf],
  ['peak flow', intraclass.peak],
] as const)('intraclass correlation, %s', (_, row) => {
  it('has the mean squares', () => {
    const { meanSquares, statistic } = intraclassCorrelation(row.data);
    expectNear(meanSquares.betweenSubjects, row.msRows, 1e-12);
    expectNear(meanSquares.betweenRaters, row.msCols, 1e-11);
    expectNear(meanSquares.residual, row.msError, 1e-12);
    expectNear(meanSquares.withinSubjects, row.msWithin, 1e-12);
    expectNear(statistic, row.f, 1e-12);
  });
  it.each([
    ['1,1', row.icc11, row.icc11Ci],
    ['2,1', row.icc21, row.icc21Ci],
    ['3,1', row.icc31, row.icc31Ci],
    ['2,k', row.icc2k, row.icc2kCi],
  ] as const)('form %s', (form, estimate, limits) => {
    const result = intraclassCorrelation(row.data, { form });
    expectNear(result.estimate, estimate, 1e-11);
    expectNear(result.lower, limits[0], 1e-9);
    expectNear(result.upper, limits[1], 1e-9);
  });
  it('has the means of one and three too', () => {
    expectNear(intraclassCorrelation(row.data, { form: '1,k' }).estimate, row.icc1k, 1e-11);
    expectNear(intraclassCorrelation(row.data, { form: '3,k' }).estimate, row.icc3k, 1e-11);
  });
});

describe('intraclass correlation as printed', () => {
  it('is .17, .29, .71 in table 4 of Shrout and Fleiss, and .44, .62, .91 of means', () => {
    const shown = (['1,1', '2,1', '3,1', '1,k', '2,k', '3,k'] as const).map(form =>
      intraclassCorrelation(intraclass.sf.data, { form }).estimate.toFixed(2),
    );
    expect(shown).toEqual(['0.17', '0.29', '0.71', '0.44', '0.62', '0.91']);
  });
  it('agrees with the limits another package gives', () => {
    for (const [i, form] of (['1,1', '2,1', '3,1', '1,k', '2,k', '3,k'] as const).entries()) {
      const result = intraclassCorrelation(intraclass.sf.data, { form });
      expectNear(result.lower, intraclass.psychSf.lower[i] ?? Number.NaN, 1e-9);
      expectNear(result.upper, intraclass.psychSf.upper[i] ?? Number.NaN, 1e-9);
    }
  });
  it.each([
    ['empty', () => intraclassCorrelation([[1, 2]])],
    ['empty', () => intraclassCorrelation([[1], [2]])],
    ['length', () => intraclassCorrelation([[1, 2], [3]])],
    [
      'missing-value',
      () =>
        intraclassCorrelation([
          [1, 2],
          [3, Number.NaN],
        ]),
    ],
    [
      'constant-covariate',
      () =>
        intraclassCorrelation([
          [2, 2],
          [2, 2],
        ]),
    ],
  ] as const)('refuses with %s', (code, call) => {
    expect(errorCode(call)).toBe(code);
  });
});

describe('intraclass correlation of raters who never disagree', () => {
  const ratings = [
    [1, 1],
    [3, 3],
    [8, 8],
  ];
  it('is 1 without limits', () => {
    const result = intraclassCorrelation(ratings);
    expect(result.estimate).toBe(1);
    expect([result.lower, result.upper, result.statistic, result.pValue]).toEqual(
      Array.from({ length: 4 }, () => undefined),
    );
  });
  it('counts a constant offset in form 2 only', () => {
    const offset = ratings.map(([a = 0, b = 0]) => [a, b + 2]);
    expect(intraclassCorrelation(offset, { form: '3,1' }).estimate).toBe(1);
    // Between subjects 2 * 13 = 26, between raters 3 * 2 = 6: 26/(26 + 2 * 6/3).
    expectNear(intraclassCorrelation(offset).estimate, 26 / 30, 1e-14);
  });
});

describe('limits of agreement', () => {
  const first = intraclass.peak.data.map(row => row[0] ?? Number.NaN);
  const second = intraclass.peak.data.map(row => row[1] ?? Number.NaN);
  it('are those of the peak flow meters', () => {
    const { blandAltman: expected } = intraclass;
    const result = blandAltman(first, second);
    expectNear(result.bias.estimate, expected.bias, 1e-12);
    expectNear(result.bias.lower, expected.biasCi[0], 1e-11);
    expectNear(result.bias.upper, expected.biasCi[1], 1e-11);
    expectNear(result.standardDeviation, expected.sd, 1e-12);
    expectNear(result.lowerLimit.estimate, expected.lower, 1e-12);
    expectNear(result.upperLimit.estimate, expected.upper, 1e-12);
    // The 1986 paper takes sqrt(3/n) s for a limit's error; 1999 has the sum it rounds: 3 % apart at n = 17.
    const error = ((result.upperLimit.upper ?? 0) - result.upperLimit.estimate) / 2.119905299221011;
    expect(error / expected.seLimitsApprox).toBeCloseTo(1, 1);
  });
  it('are the plain ones if each subject gives one pair', () => {
    const plain = blandAltman(first, second);
    const single = blandAltman(first, second, { cluster: first.map((_, i) => i) });
    expectNear(single.standardDeviation, plain.standardDeviation, 1e-12);
    expectNear(single.bias.lower, plain.bias.lower, 1e-12);
    expect(single.clusters).toBe(17);
    expect(single.lowerLimit.lower).toBeUndefined();
  });
  it('add variances within and between subjects', () => {
    // Differences 1, 3 | 5, 7 | 6, 2: means 2, 6, 4, of all 4. Within: (2 + 2 + 8)/3 = 4. Between: 2(4 + 4 + 0)/2 = 8.
    // Between subjects (8 - 4)/2 = 2, so the standard deviation is sqrt(6).
    const zero = [0, 0, 0, 0, 0, 0];
    const result = blandAltman([1, 5, 6, 7, 3, 2], zero, { cluster: ['a', 'b', 'c', 'b', 'a', 'c'] });
    expectNear(result.standardDeviation, Math.sqrt(6), 1e-14);
    expect(result.bias.estimate).toBe(4);
    // Variance of the mean: 4/6 + 2 * 12/36 = 4/3; t on 2 degrees of freedom is 4.30265.
    expectNear(result.bias.upper - 4, 4.302652729749464 * Math.sqrt(4 / 3), 1e-12);
  });
  it.each([
    ['empty', () => blandAltman([1], [2])],
    ['length', () => blandAltman([1, 2], [2])],
    ['missing-value', () => blandAltman([1, Number.NaN], [2, 3])],
    ['one-group', () => blandAltman([1, 2], [2, 3], { cluster: ['a', 'a'] })],
    ['out-of-range', () => blandAltman([1, 2], [2, 3], { multiplier: 0 })],
    ['out-of-range', () => blandAltman([1, 2], [2, 3], { level: 1 })],
  ] as const)('refuse with %s', (code, call) => {
    expect(errorCode(call)).toBe(code);
  });
});
