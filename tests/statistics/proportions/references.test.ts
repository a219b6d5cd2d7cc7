import { describe, expect, it } from 'vitest';
import {
  clopperPearsonInterval,
  mcnemar,
  newcombeDifference,
  oddsRatio,
  riskRatio,
  trendInProportions,
  wilsonInterval,
} from '../../../src/statistics/proportions/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { expectLimits, expectNear, expectReference } from '../near.ts';

type Pair = readonly [number | null, number | null];

// R 4.2.2: prop.test without correction and binom.test, by tests/reference/scripts/make-reference.R.
interface OneProportion {
  readonly x: number;
  readonly n: number;
  readonly confLevel: number;
  readonly estimate: number;
  readonly wilson: Pair;
  readonly clopperPearson: Pair;
}
const single = referenceValues('proportion-ci').values as readonly OneProportion[];

describe('one proportion', () => {
  it.each(single)('$x of $n at $confLevel', ({ x, n, confLevel, estimate, wilson, clopperPearson }) => {
    const score = wilsonInterval(x, n, { level: confLevel });
    expect(score.estimate).toBe(estimate);
    expectLimits(score, wilson, 1e-12);
    // 1e-10: R's qbeta stops there at a few of these points.
    expectLimits(clopperPearsonInterval(x, n, { level: confLevel }), clopperPearson, 1e-10);
  });
});

interface TwoProportions {
  readonly x1: number;
  readonly n1: number;
  readonly x2: number;
  readonly n2: number;
  readonly confLevel: number;
  readonly difference: number;
  readonly newcombe: Pair;
  readonly oddsRatio: number | string | null;
  readonly oddsRatioWald: readonly (number | string | null)[];
  readonly oddsRatioHaldane: number;
  readonly oddsRatioHaldaneCi: Pair;
  readonly riskRatio: number | string | null;
  readonly riskRatioKatz: readonly (number | string | null)[];
}
const pairs = referenceValues('two-proportions').values as readonly TwoProportions[];

describe('two proportions', () => {
  it.each(pairs)('$x1/$n1 and $x2/$n2 at $confLevel', row => {
    const { x1, n1, x2, n2 } = row;
    const options = { level: row.confLevel };
    const difference = newcombeDifference(x1, n1, x2, n2, options);
    expectNear(difference.estimate, row.difference, 1e-12);
    expectLimits(difference, row.newcombe, 1e-12);
    const half = oddsRatio(x1, n1, x2, n2, { ...options, correction: 'half' });
    expectNear(half.estimate, row.oddsRatioHaldane, 1e-12);
    expectLimits(half, row.oddsRatioHaldaneCi, 1e-12);
    // With a count of 0 the reference's log-scale limits are 0, infinite or not available; ours are undefined.
    if ([x1, x2, n1 - x1, n2 - x2].every(count => count > 0)) {
      const odds = oddsRatio(x1, n1, x2, n2, options);
      expectNear(odds.estimate, Number(row.oddsRatio), 1e-12);
      expectLimits(odds, row.oddsRatioWald, 1e-12);
    }
    if (x1 > 0 && x2 > 0) {
      const risk = riskRatio(x1, n1, x2, n2, options);
      expectNear(risk.estimate, Number(row.riskRatio), 1e-12);
      expectLimits(risk, row.riskRatioKatz, 1e-12);
    }
  });
});

interface Paired {
  readonly table: readonly (readonly number[])[];
  readonly b: number;
  readonly c: number;
  readonly chisq: number;
  readonly p: number;
  readonly chisqCorrected: number;
  readonly pCorrected: number;
  readonly exactP: number;
  readonly midP: number;
  readonly or: number | string;
  readonly orExactCi: readonly (number | string)[];
  readonly diff: number;
  readonly diffWald: Pair;
}
const paired = referenceValues('mcnemar').values as readonly Paired[];

describe('paired proportions', () => {
  it.each(paired)('discordant $b and $c', row => {
    const test = mcnemar(row.table);
    expectNear(test.statistic, row.chisq, 1e-12);
    expectNear(test.pValue, row.p, 1e-12);
    expect(test.degreesOfFreedom).toBe(1);
    expect(test.discordant).toEqual([row.b, row.c]);
    const corrected = mcnemar(row.table, { continuity: true });
    expectNear(corrected.statistic, row.chisqCorrected, 1e-12);
    expectNear(corrected.pValue, row.pCorrected, 1e-12);
    expectNear(test.exactPValue, row.exactP, 1e-12);
    expectNear(test.midPValue, row.midP, 1e-12);
    expectReference(test.oddsRatio.estimate, row.or, 1e-12);
    expectLimits(test.oddsRatio, row.orExactCi, 1e-10);
    expectNear(test.difference.estimate, row.diff, 1e-12);
    expectLimits(test.difference, row.diffWald, 1e-12);
  });
});

interface Trend {
  readonly x: readonly number[];
  readonly n: readonly number[];
  readonly score: readonly number[];
  readonly chisq: number;
  readonly p: number;
  readonly z: number;
  readonly homogeneity: number;
  readonly homogeneityP: number;
}
const trends = referenceValues('cochran-armitage').values as Readonly<Record<string, Trend>>;

describe('trend in proportions', () => {
  it.each(Object.entries(trends))('%s', (_, { x, n, score, chisq, p, z, homogeneity, homogeneityP }) => {
    const test = trendInProportions(x, n, { scores: score });
    expectNear(test.statistic, chisq, 1e-11);
    expectNear(test.pValue, p, 1e-11);
    expectNear(test.z, z, 1e-11);
    expectNear(test.homogeneity.statistic, homogeneity, 1e-11);
    expectNear(test.homogeneity.pValue, homogeneityP, 1e-11);
    expectNear(test.departure?.statistic, homogeneity - chisq, 1e-9);
  });
});
