import { describe, expect, it } from 'vitest';
import {
  dunnTest,
  jonckheereTerpstra,
  kendall,
  kruskalWallis,
  spearman,
  wilcoxonRankSum,
} from '../../../src/statistics/ranks/index.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { expectNear } from '../near.ts';

interface Fit {
  readonly statistic: number;
  readonly p: number;
  readonly estimate?: number | null;
  readonly ci?: readonly [number, number] | null;
}
interface TwoSamples {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly normalCorrect: Fit;
  readonly normalNoCorrect: Fit;
  readonly exactPermutation: Fit;
  readonly hodgesLehmannPairMedian: number;
  readonly auc: number;
  readonly exact?: Fit;
}

// R 4.2.2 wilcox.test; exactRankTests for permutation with ties.
const samples = referenceValues('wilcoxon').values as Readonly<Record<string, TwoSamples>>;

describe.each(Object.entries(samples).filter(([, row]) => 'y' in row))('rank sum, %s', (_, row) => {
  it('agrees in the normal approximation with and without continuity correction', () => {
    const corrected = wilcoxonRankSum(row.x, row.y, { method: 'normal' });
    expect(corrected.statistic).toBe(row.normalCorrect.statistic);
    expectNear(corrected.pValue, row.normalCorrect.p, 1e-11);
    const plain = wilcoxonRankSum(row.x, row.y, { method: 'normal', continuity: false });
    expectNear(plain.pValue, row.normalNoCorrect.p, 1e-11);
    expectNear(plain.probabilityGreater, row.auc, 1e-14);
    // The reference solves for the shift at which the standardised statistic jumps past z, with the ties of each
    // shift; the order statistics here are the same values, found exactly. Its root search stops at 1e-12 of 0.
    expectNear(corrected.lower, row.normalCorrect.ci?.[0] ?? Number.NaN, 1e-7, 'lower');
    expectNear(corrected.upper, row.normalCorrect.ci?.[1] ?? Number.NaN, 1e-7, 'upper');
  });
  it('agrees in the permutation distribution, ties included', () => {
    expectNear(wilcoxonRankSum(row.x, row.y, { method: 'exact' }).pValue, row.exactPermutation.p, 1e-11);
  });
  it('has the median of pair differences as its shift', () => {
    expectNear(wilcoxonRankSum(row.x, row.y).estimate, row.hodgesLehmannPairMedian, 1e-14);
  });
  it('takes the exact route by itself only without ties', () => {
    const test = wilcoxonRankSum(row.x, row.y);
    expect(test.method).toBe(row.exact === undefined ? 'normal' : 'exact');
    if (row.exact === undefined) return;
    expectNear(test.pValue, row.exact.p, 1e-12);
    expectNear(test.lower, row.exact.ci?.[0] ?? Number.NaN, 1e-12);
    expectNear(test.upper, row.exact.ci?.[1] ?? Number.NaN, 1e-12);
  });
});

interface Several {
  readonly kw: { readonly statistic: number; readonly df: number; readonly p: number };
  readonly dunn: {
    readonly a: readonly string[];
    readonly b: readonly string[];
    readonly z: readonly number[];
    readonly p: readonly number[];
    readonly holm: readonly number[];
    readonly bh: readonly number[];
    readonly bonferroni: readonly number[];
  };
  readonly jt: {
    readonly J: number;
    readonly mean: number;
    readonly variance: number;
    readonly z: number;
    readonly pTwoSided: number;
    readonly pIncreasing: number;
  };
}
const several = referenceValues('kruskal-dunn-jt').values as Readonly<Record<string, Several>>;
const ozone = dataset('airquality').filter(row => row['Ozone'] !== '');
const breaks = dataset('warpbreaks');
const plants = dataset('PlantGrowth');
const groupings = {
  ozoneMonth: { value: numbers(ozone, 'Ozone'), group: numbers(ozone, 'Month') },
  breaksTension: { value: numbers(breaks, 'breaks'), group: breaks.map(row => row['tension'] ?? '') },
  plant: { value: numbers(plants, 'weight'), group: plants.map(row => row['group'] ?? '') },
};
const orders: Readonly<Record<string, readonly (string | number)[]>> = { breaksTension: ['L', 'M', 'H'] };

// R 4.2.2 kruskal.test; Dunn and Jonckheere-Terpstra by their formulas in the script.
describe.each(Object.entries(groupings))('several groups, %s', (name, data) => {
  const row = several[name];
  it('agrees in the Kruskal-Wallis test', () => {
    const test = kruskalWallis(data);
    expectNear(test.statistic, row?.kw.statistic ?? Number.NaN, 1e-12);
    expect(test.degreesOfFreedom).toBe(row?.kw.df);
    expectNear(test.pValue, row?.kw.p ?? Number.NaN, 1e-11);
  });
  it('agrees in every comparison of two groups', () => {
    const holm = dunnTest(data);
    const bh = dunnTest(data, { adjust: 'benjamini-hochberg' });
    const bonferroni = dunnTest(data, { adjust: 'bonferroni' });
    expect(holm.length).toBe(row?.dunn.a.length);
    for (const [i, comparison] of holm.entries()) {
      expect(comparison.groups.map(String)).toEqual([row?.dunn.a[i], row?.dunn.b[i]]);
      expectNear(comparison.statistic, row?.dunn.z[i] ?? Number.NaN, 1e-11);
      expectNear(comparison.pValue, row?.dunn.p[i] ?? Number.NaN, 1e-11);
      expectNear(comparison.adjustedPValue, row?.dunn.holm[i] ?? Number.NaN, 1e-11);
      expectNear(bh[i]?.adjustedPValue, row?.dunn.bh[i] ?? Number.NaN, 1e-11);
      expectNear(bonferroni[i]?.adjustedPValue, row?.dunn.bonferroni[i] ?? Number.NaN, 1e-11);
    }
  });
  it('agrees in the test of order', () => {
    const order = orders[name];
    const test = jonckheereTerpstra(data, order === undefined ? {} : { order });
    expect(test.statistic).toBe(row?.jt.J);
    expect(test.mean).toBe(row?.jt.mean);
    expectNear(test.variance, row?.jt.variance ?? Number.NaN, 1e-13);
    expectNear(test.z, row?.jt.z ?? Number.NaN, 1e-12);
    expectNear(test.pValue, row?.jt.pTwoSided ?? Number.NaN, 1e-11);
    expectNear(test.pIncreasing, row?.jt.pIncreasing ?? Number.NaN, 1e-11);
  });
});

interface Correlations {
  readonly mtcarsMpgWt: { readonly spearman: Fit; readonly kendall: Fit; readonly kendallContinuity: Fit };
  readonly longleyGnpUnemployed: {
    readonly spearmanExact: Fit;
    readonly kendallExact: Fit;
    readonly spearmanAsymptotic: Fit;
  };
  readonly small: {
    readonly x: readonly number[];
    readonly y: readonly number[];
    readonly kendallExact: Fit;
    readonly spearmanExact: Fit;
  };
}
// R 4.2.2 cor.test.
const correlations = referenceValues('correlation').values as Correlations;

describe('rank correlation', () => {
  it('agrees with ties', () => {
    const { spearman: rho, kendall: tau, kendallContinuity } = correlations.mtcarsMpgWt;
    const mpg = numbers(dataset('mtcars'), 'mpg');
    const weight = numbers(dataset('mtcars'), 'wt');
    const first = spearman(mpg, weight);
    expectNear(first.estimate, rho.estimate ?? Number.NaN, 1e-13);
    expectNear(first.statistic, rho.statistic, 1e-13);
    expectNear(first.pValue, rho.p, 1e-11);
    const second = kendall(mpg, weight);
    expectNear(second.estimate, tau.estimate ?? Number.NaN, 1e-13);
    expectNear(second.statistic, tau.statistic, 1e-13);
    expectNear(second.pValue, tau.p, 1e-11);
    const third = kendall(mpg, weight, { continuity: true });
    expectNear(third.statistic, kendallContinuity.statistic, 1e-13);
    expectNear(third.pValue, kendallContinuity.p, 1e-11);
  });
  it('agrees without ties, 16 pairs (series and exact inversions)', () => {
    const gnp = numbers(dataset('longley'), 'GNP');
    const unemployed = numbers(dataset('longley'), 'Unemployed');
    const { spearmanExact, spearmanAsymptotic, kendallExact } = correlations.longleyGnpUnemployed;
    const rho = spearman(gnp, unemployed);
    expectNear(rho.estimate, spearmanExact.estimate ?? Number.NaN, 1e-13);
    expectNear(rho.statistic, spearmanExact.statistic, 1e-13);
    expectNear(rho.pValue, spearmanExact.p, 1e-10);
    expectNear(spearman(gnp, unemployed, { method: 't' }).pValue, spearmanAsymptotic.p, 1e-11);
    const tau = kendall(gnp, unemployed);
    expectNear(tau.estimate, kendallExact.estimate ?? Number.NaN, 1e-13);
    // The reference's statistic in the exact case is the number of concordant pairs.
    expect(tau.concordant).toBe(kendallExact.statistic);
    expectNear(tau.pValue, kendallExact.p, 1e-12);
    // Turning one variable round changes the sign and nothing else.
    const turned = unemployed.map(value => -value);
    expectNear(spearman(gnp, turned).pValue, spearmanExact.p, 1e-10);
    expectNear(kendall(gnp, turned).pValue, kendallExact.p, 1e-12);
  });
  it('agrees by enumeration on 9 pairs', () => {
    const { x, y, kendallExact, spearmanExact } = correlations.small;
    const rho = spearman(x, y);
    expectNear(rho.statistic, spearmanExact.statistic, 1e-13);
    expectNear(rho.pValue, spearmanExact.p, 1e-12);
    expectNear(kendall(x, y).pValue, kendallExact.p, 1e-12);
    expect(kendall(x, y).concordant).toBe(kendallExact.statistic);
  });
});
