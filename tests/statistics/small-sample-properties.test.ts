import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cohensKappa, blandAltman } from '../../src/statistics/agreement/index.ts';
import * as d from '../../src/statistics/distributions/index.ts';
import {
  clopperPearsonInterval,
  mcnemar,
  newcombeDifference,
  oddsRatio,
  riskRatio,
  wilsonInterval,
} from '../../src/statistics/proportions/index.ts';
import { kendall, kruskalWallis, spearman, wilcoxonRankSum } from '../../src/statistics/ranks/index.ts';
import { poissonRateInterval, rateRatio } from '../../src/statistics/rates/index.ts';
import { chiSquareTest, fisherExact, mantelHaenszel } from '../../src/statistics/tables/index.ts';
import { expectNear, expectReference } from './near.ts';

const seeded = { seed: 20, numRuns: 150 };
const trial = fc
  .integer({ min: 1, max: 400 })
  .chain(n => fc.record({ n: fc.constant(n), successes: fc.integer({ min: 0, max: n }) }));
const cell = fc.integer({ min: 1, max: 40 });
const fourfold = fc.tuple(cell, cell, cell, cell).map(([a, b, c, e]) => [
  [a, b],
  [c, e],
]);
const sample = fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 3, maxLength: 12 });

describe('distributions', () => {
  it('have tails that add up to 1 and fall as the point rises', () => {
    const df = fc.double({ min: 0.2, max: 300, noNaN: true });
    const x = fc.double({ min: 1e-3, max: 600, noNaN: true });
    fc.assert(
      fc.property(x, df, df, (point, a, b) => {
        expect(d.chiSquareCumulative(point, a) + d.chiSquareUpperTail(point, a)).toBeCloseTo(1, 13);
        expect(d.fCumulative(point, a, b) + d.fUpperTail(point, a, b)).toBeCloseTo(1, 13);
        expect(d.chiSquareUpperTail(point * 1.01, a)).toBeLessThanOrEqual(d.chiSquareUpperTail(point, a));
        // One distribution by way of another: t squared is F, and the reciprocal of F is F turned round.
        expectNear(d.twoSidedStudentT(Math.sqrt(point), b), d.fUpperTail(point, 1, b), 1e-10);
        const turned = d.fCumulative(1 / point, b, a);
        if (turned > 1e-290) expectNear(d.fUpperTail(point, a, b), turned, 1e-10);
      }),
      seeded,
    );
  });
  it('agree across the normal, the chi-square on 1 and the exponential as chi-square on 2', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 36, noNaN: true }), z => {
        // z * z is rounded, which moves the tail by z^2 half-bits.
        expectNear(d.chiSquareUpperTail(z * z, 1), d.twoSidedNormal(z), 1e-12);
        expectNear(d.chiSquareUpperTail(2 * z, 2), Math.exp(-z), 1e-13);
      }),
      seeded,
    );
  });
});

describe('intervals', () => {
  it('hold their estimate, stay in bounds and widen with the level', () => {
    fc.assert(
      fc.property(trial, ({ successes, n }) => {
        for (const interval of [wilsonInterval, clopperPearsonInterval]) {
          const usual = interval(successes, n);
          const wide = interval(successes, n, { level: 0.99 });
          expect(usual.lower).toBeGreaterThanOrEqual(0);
          expect(usual.lower).toBeLessThanOrEqual(usual.estimate);
          expect(usual.upper).toBeGreaterThanOrEqual(usual.estimate);
          expect(usual.upper).toBeLessThanOrEqual(1);
          expect(wide.lower).toBeLessThanOrEqual(usual.lower);
          expect(wide.upper).toBeGreaterThanOrEqual(usual.upper);
          const other = interval(n - successes, n);
          expect(other.upper).toBeCloseTo(1 - usual.lower, 13);
        }
        if (successes > 0) {
          // The exact limits are those at which the binomial tails are 0.025.
          const { lower } = clopperPearsonInterval(successes, n);
          expectNear(d.binomialUpperTail(successes - 1, n, lower), 0.025, 1e-10);
        }
      }),
      seeded,
    );
  });
  it('turn round with the groups', () => {
    fc.assert(
      fc.property(trial, trial, (a, b) => {
        const there = newcombeDifference(a.successes, a.n, b.successes, b.n);
        const back = newcombeDifference(b.successes, b.n, a.successes, a.n);
        expect(back.lower).toBeCloseTo(-there.upper, 13);
        expect(back.upper).toBeCloseTo(-there.lower, 13);
      }),
      seeded,
    );
  });
  it('of rates scale with the unit of time', () => {
    fc.assert(
      fc.property(fc.nat(300), fc.double({ min: 0.5, max: 1e4, noNaN: true }), (events, time) => {
        const years = poissonRateInterval(events, time);
        const days = poissonRateInterval(events, time * 365.25);
        expectReference((days.upper ?? 0) * 365.25, years.upper, 1e-12);
        expectReference((days.lower ?? 0) * 365.25, years.lower, 1e-12);
        if (events > 0) {
          expectNear(d.poissonUpperTail(events - 1, (years.lower ?? 0) * time), 0.025, 1e-10);
        }
      }),
      seeded,
    );
  });
  it('of a rate ratio turn into their reciprocals with the groups, and leave the p-value', () => {
    fc.assert(
      fc.property(
        cell,
        cell,
        fc.integer({ min: 1, max: 90 }),
        fc.integer({ min: 1, max: 90 }),
        (a, b, s, t) => {
          const there = rateRatio(a, s, b, t);
          const back = rateRatio(b, t, a, s);
          expectNear(back.estimate, 1 / (there.estimate ?? 0), 1e-12);
          expectNear(back.lower, 1 / (there.upper ?? 0), 1e-11);
          expectNear(back.pValue, there.pValue, 1e-9);
        },
      ),
      seeded,
    );
  });
});

describe('fourfold tables', () => {
  it('give the same p-values with rows or columns exchanged, and reciprocal odds', () => {
    fc.assert(
      fc.property(fourfold, ([first = [], second = []]) => {
        const table = [first, second];
        const turned = [second, first];
        const exact = fisherExact(table);
        expectNear(fisherExact(turned).pValue, exact.pValue, 1e-9);
        expectNear(fisherExact(turned).estimate, 1 / (exact.estimate ?? 0), 1e-9);
        expectNear(fisherExact(turned).lower, 1 / (exact.upper ?? 0), 1e-9);
        expectNear(chiSquareTest(turned).pValue, chiSquareTest(table).pValue, 1e-9);
        const yates = chiSquareTest(table, { continuity: true });
        expect(yates.pValue).toBeGreaterThanOrEqual(chiSquareTest(table).pValue);
      }),
      seeded,
    );
  });
  it('of one stratum have the crude ratios and (n - 1)/n of the chi-square', () => {
    fc.assert(
      fc.property(fourfold, ([first = [], second = []]) => {
        const table = [first, second];
        const [a = 0, b = 0] = first;
        const [c = 0, e = 0] = second;
        const n = a + b + c + e;
        const strata = mantelHaenszel([table]);
        expectReference(strata.estimate, oddsRatio(a, a + b, c, c + e).estimate, 1e-12);
        expectReference(strata.lower, oddsRatio(a, a + b, c, c + e).lower, 1e-11);
        expectReference(strata.riskRatio.estimate, riskRatio(a, a + b, c, c + e).estimate, 1e-12);
        expectReference(strata.riskRatio.upper, riskRatio(a, a + b, c, c + e).upper, 1e-11);
        const plain = chiSquareTest(table).statistic;
        expect(strata.statistic).toBeCloseTo((plain * (n - 1)) / n, 9);
        expect(strata.breslowDay).toBeUndefined();
        // Each stratum twice: the same odds ratio, and no doubt of homogeneity.
        const twice = mantelHaenszel([table, table]);
        expectReference(twice.estimate, strata.estimate, 1e-12);
        expect(twice.breslowDay?.statistic).toBeCloseTo(0, 9);
      }),
      seeded,
    );
  });
  it('of larger size agree with the fourfold route when a column of zeros is set beside them', () => {
    fc.assert(
      fc.property(fourfold, ([first = [], second = []]) => {
        const wider = [
          [...first, 0],
          [...second, 0],
        ];
        expectNear(fisherExact(wider).pValue, fisherExact([first, second]).pValue, 1e-8);
      }),
      { seed: 20, numRuns: 40 },
    );
  });
  it('of pairs give no p-value above 1, the mid-p below the exact one', () => {
    fc.assert(
      fc.property(fourfold, table => {
        const test = mcnemar(table);
        expect(test.exactPValue).toBeLessThanOrEqual(1);
        expect(test.midPValue).toBeLessThanOrEqual(test.exactPValue);
        expect(mcnemar(table, { continuity: true }).pValue).toBeGreaterThanOrEqual(test.pValue);
      }),
      seeded,
    );
  });
});

describe('ranks', () => {
  it('do not change under an increasing transformation, nor with the order of rows', () => {
    fc.assert(
      fc.property(sample, sample, (x, y) => {
        const bend = (value: number): number => Math.exp(value / 3) - 2;
        const plain = wilcoxonRankSum(Object.freeze(x), Object.freeze(y));
        const bent = wilcoxonRankSum(x.map(bend).reverse(), y.map(bend));
        expect(bent.statistic).toBe(plain.statistic);
        expect(bent.pValue).toBe(plain.pValue);
        expect(wilcoxonRankSum(y, x).statistic).toBe(x.length * y.length - plain.statistic);
        expectNear(wilcoxonRankSum(y, x).estimate, -plain.estimate, 1e-12);
        expectNear(wilcoxonRankSum(y, x).pValue, plain.pValue, 1e-12);
        const differences = x.flatMap(a => y.map(b => a - b)).sort((a, b) => a - b);
        const half = (differences.length - 1) / 2;
        const middle = ((differences[Math.floor(half)] ?? 0) + (differences[Math.ceil(half)] ?? 0)) / 2;
        expect(plain.estimate).toBeCloseTo(middle, 12);
        const shifted = wilcoxonRankSum(
          x.map(value => value + 5),
          y,
        );
        expect(shifted.estimate).toBeCloseTo(plain.estimate + 5, 12);
        // Two groups: Kruskal-Wallis is the square of the uncorrected normal statistic.
        const group = [...x.map(() => 'x'), ...y.map(() => 'y')];
        expectNear(
          kruskalWallis({ value: [...x, ...y], group }).pValue,
          wilcoxonRankSum(x, y, { method: 'normal', continuity: false }).pValue,
          1e-9,
        );
      }),
      seeded,
    );
  });
  it('correlate as counting every pair says', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(9), fc.nat(9)), { minLength: 4, maxLength: 30 }), pairs => {
        const x = pairs.map(([a]) => a);
        const y = pairs.map(([, b]) => b);
        fc.pre(new Set(x).size > 1 && new Set(y).size > 1);
        let concordant = 0;
        let discordant = 0;
        for (let i = 0; i < x.length; i++) {
          for (let j = 0; j < i; j++) {
            const sign = Math.sign(((x[i] ?? 0) - (x[j] ?? 0)) * ((y[i] ?? 0) - (y[j] ?? 0)));
            if (sign > 0) concordant += 1;
            if (sign < 0) discordant += 1;
          }
        }
        const tau = kendall(x, y);
        expect([tau.concordant, tau.discordant]).toEqual([concordant, discordant]);
        expect(Math.abs(tau.estimate)).toBeLessThanOrEqual(1);
        const rho = spearman(x, y);
        expect(Math.abs(rho.estimate)).toBeLessThanOrEqual(1);
        expectNear(spearman(y, x).estimate, rho.estimate, 1e-12);
        expect(rho.pValue).toBeGreaterThanOrEqual(0);
        expect(rho.pValue).toBeLessThanOrEqual(1);
      }),
      seeded,
    );
  });
});

describe('agreement', () => {
  it('kappa is the same with the raters exchanged', () => {
    fc.assert(
      fc.property(fourfold, ([first = [], second = []]) => {
        const turned = [0, 1].map(j => [first[j] ?? 0, second[j] ?? 0]);
        const there = cohensKappa([first, second], { weights: 'quadratic' });
        const back = cohensKappa(turned, { weights: 'quadratic' });
        expect(back.estimate).toBeCloseTo(there.estimate ?? 0, 12);
        expect(back.standardError).toBeCloseTo(there.standardError ?? 0, 12);
      }),
      seeded,
    );
  });
  it('limits turn round with the methods and move with an offset', () => {
    fc.assert(
      fc.property(sample, first => {
        const second = first.map((value, i) => value + (i % 3));
        const there = blandAltman(first, second);
        const back = blandAltman(second, first);
        expect(back.lowerLimit.estimate).toBeCloseTo(-there.upperLimit.estimate, 12);
        const moved = blandAltman(
          first.map(value => value + 10),
          second,
        );
        expect(moved.bias.estimate).toBeCloseTo(there.bias.estimate + 10, 11);
        expect(moved.standardDeviation).toBeCloseTo(there.standardDeviation, 11);
      }),
      seeded,
    );
  });
});
