import { describe, expect, it } from 'vitest';
import { cohensKappa } from '../../src/statistics/agreement/index.ts';
import {
  clopperPearsonInterval,
  mcnemar,
  newcombeDifference,
  trendInProportions,
  wilsonInterval,
} from '../../src/statistics/proportions/index.ts';
import { jonckheereTerpstra, kendall, wilcoxonRankSum } from '../../src/statistics/ranks/index.ts';
import { poissonRateInterval } from '../../src/statistics/rates/index.ts';
import { chiSquareTest, fisherExact, mantelHaenszel } from '../../src/statistics/tables/index.ts';
import { expectNear } from './near.ts';

const four = (interval: { readonly lower: number; readonly upper: number }): readonly string[] => [
  interval.lower.toFixed(4),
  interval.upper.toFixed(4),
];

// Printed figures quoted from memory of the papers; the digits asserted are those printed.
describe('Newcombe 1998, one proportion (Statistics in Medicine 17:857-872, table I)', () => {
  it.each([
    [81, 263, ['0.2553', '0.3662'], ['0.2527', '0.3676']],
    [15, 148, ['0.0624', '0.1605'], ['0.0578', '0.1617']],
    [0, 20, ['0.0000', '0.1611'], ['0.0000', '0.1684']],
    [1, 29, ['0.0061', '0.1718'], ['0.0009', '0.1776']],
  ] as const)('%d of %d', (successes, n, score, exact) => {
    expect(four(wilsonInterval(successes, n))).toEqual(score);
    expect(four(clopperPearsonInterval(successes, n))).toEqual(exact);
  });
});

describe('Newcombe 1998, two proportions (Statistics in Medicine 17:873-890, table II, method 10)', () => {
  it.each([
    [56, 70, 48, 80, ['0.0524', '0.3339']],
    [9, 10, 3, 10, ['0.1705', '0.8090']],
    [6, 7, 2, 7, ['0.0582', '0.8062']],
    [5, 56, 0, 29, ['-0.0381', '0.1926']],
    [0, 10, 0, 20, ['-0.1611', '0.2775']],
    [0, 10, 0, 10, ['-0.2775', '0.2775']],
    [10, 10, 0, 20, ['0.6791', '1.0000']],
    [10, 10, 0, 10, ['0.6075', '1.0000']],
  ] as const)('%d/%d less %d/%d', (a, m, b, n, printed) => {
    expect(four(newcombeDifference(a, m, b, n))).toEqual(printed);
  });
});

describe('Wilson 1927 (JASA 22:209-212)', () => {
  it('has as limits the chances whose distance from the observed is z standard errors', () => {
    const { estimate, lower, upper } = wilsonInterval(7, 10);
    for (const p of [lower, upper]) {
      expectNear(Math.abs(estimate - p) / Math.sqrt((p * (1 - p)) / 10), 1.959963984540054, 1e-12);
    }
  });
});

describe('Garwood 1936 (Biometrika 28:437-442), 95 % limits of a Poisson count', () => {
  it.each([
    [0, '0.000', '3.689'],
    [1, '0.025', '5.572'],
    [5, '1.623', '11.668'],
    [10, '4.795', '18.390'],
    [20, '12.217', '30.888'],
    [50, '37.111', '65.919'],
  ])('%d events', (events, lower, upper) => {
    const interval = poissonRateInterval(events, 1);
    expect(interval.lower?.toFixed(3)).toBe(lower);
    expect(interval.upper?.toFixed(3)).toBe(upper);
  });
});

describe('the tea tasting (Fisher, The Design of Experiments; Agresti, Categorical Data Analysis, 3.5)', () => {
  const tea = [
    [3, 1],
    [1, 3],
  ];
  it('has 17/70 on one side and 34/70 on both', () => {
    expectNear(fisherExact(tea, { alternative: 'greater' }).pValue, 17 / 70, 1e-14);
    expectNear(fisherExact(tea).pValue, 34 / 70, 1e-14);
    expectNear(fisherExact(tea, { alternative: 'less' }).pValue, 69 / 70, 1e-14);
  });
  it('has an odds ratio of 6.41 with limits 0.21 and 626.24', () => {
    const { estimate, lower, upper } = fisherExact(tea);
    expect([estimate, lower, upper].map(value => value?.toFixed(2))).toEqual(['6.41', '0.21', '626.24']);
  });
});

describe('Fleiss, Cohen and Everitt 1969 (Psychological Bulletin 72:323-327)', () => {
  it('has kappa 0.429 with variances 0.002885 and, under no agreement, 0.003082', () => {
    const kappa = cohensKappa([
      [106, 10, 4],
      [22, 28, 10],
      [2, 12, 6],
    ]);
    expect(kappa.estimate?.toFixed(3)).toBe('0.429');
    expect(((kappa.standardError ?? 0) ** 2).toFixed(6)).toBe('0.002885');
    expect(((kappa.nullStandardError ?? 0) ** 2).toFixed(6)).toBe('0.003082');
  });
});

describe('approval ratings (Agresti, Categorical Data Analysis, 10.1)', () => {
  it('has a McNemar statistic of 17.36 (z = -4.17) and a difference of -0.04', () => {
    const test = mcnemar([
      [794, 86],
      [150, 570],
    ]);
    expect(test.statistic.toFixed(2)).toBe('17.36');
    expect(test.difference.estimate).toBe(-0.04);
    expect(test.difference.lower.toFixed(3)).toBe('-0.059');
    expect(test.difference.upper.toFixed(3)).toBe('-0.021');
  });
});

describe('alcohol and malformation (Graubard and Korn 1987; Agresti, 3.4.5)', () => {
  it('has a trend statistic of 6.57 with scores 0, 0.5, 1.5, 4, 7', () => {
    const test = trendInProportions([48, 38, 5, 1, 1], [17114, 14502, 793, 127, 38], {
      scores: [0, 0.5, 1.5, 4, 7],
    });
    expect(test.statistic.toFixed(2)).toBe('6.57');
    // Printed: X2(I) = 12.1 of which 5.5 is not linear, on 3 degrees of freedom.
    expect(test.homogeneity.statistic.toFixed(1)).toBe('12.1');
    expect(test.departure?.statistic.toFixed(1)).toBe('5.5');
    expect(test.departure?.degreesOfFreedom).toBe(3);
  });
});

describe('stratified tables worked by hand', () => {
  it('has the odds ratio and test of two small strata', () => {
    // Strata 3 1 / 1 3 and 2 2 / 1 5. Odds: (9/8 + 10/10)/(1/8 + 2/10) = 2.125/0.325.
    // Test: differences 3 - 2 and 2 - 1.2; variances 4^4/(64 * 7) = 4/7 and 4*6*3*7/(100*9) = 0.56.
    const test = mantelHaenszel([
      [
        [3, 1],
        [1, 3],
      ],
      [
        [2, 2],
        [1, 5],
      ],
    ]);
    expectNear(test.estimate, 2.125 / 0.325, 1e-14);
    expectNear(test.statistic, 1.8 ** 2 / (4 / 7 + 0.56), 1e-14);
    // Risk: (3 * 4/8 + 2 * 6/10)/(1 * 4/8 + 1 * 4/10).
    expectNear(test.riskRatio.estimate, 2.7 / 0.9, 1e-14);
  });
});

describe('ranks worked by hand', () => {
  it('counts pairs, and all 20 splits of six values', () => {
    // x: 1, 4, 6; y: 2, 3, 5. Pairs with x above y: 0 + 2 + 3 = 5; sums of 3 of 6 ranks with U >= 5 or <= 4: all.
    const even = wilcoxonRankSum([6, 1, 4], [3, 5, 2]);
    expect(even.statistic).toBe(5);
    expect(even.pValue).toBe(1);
    const apart = wilcoxonRankSum([4, 6, 5], [3, 1, 2]);
    expect(apart.statistic).toBe(9);
    expectNear(apart.pValue, 2 / 20, 1e-15);
  });
  it('counts ordered pairs of three groups', () => {
    // a: 1, 3; b: 2, 4; c: 5. a-b: 1<2, 1<4, 3<4; a-c: 2; b-c: 2. Seven of eight.
    const test = jonckheereTerpstra({ value: [3, 5, 2, 1, 4], group: ['a', 'c', 'b', 'a', 'b'] });
    expect(test.statistic).toBe(7);
    expect(test.mean).toBe(4);
    // (5*4*15 - 2*2*1*9)/72 = 264/72.
    expectNear(test.variance, 264 / 72, 1e-14);
  });
  it('counts discordant pairs', () => {
    // y orders 1 3 2 4: one pair of six turned; at most one inversion in 4 of 24 orders.
    const tau = kendall([1, 2, 3, 4], [10, 30, 20, 40]);
    expectNear(tau.estimate, 4 / 6, 1e-15);
    expect(tau.discordant).toBe(1);
    expectNear(tau.pValue, 8 / 24, 1e-14);
  });
});

// J Child Orthop 2009;3:271-276: two braces, 57 infants each. The paper's P values do not say which test; the
// uncorrected chi-square comes within rounding of them except recurrence, which it puts just above 0.02.
describe('two braces compared, recomputed from the counts', () => {
  const compare = (a: number, b: number): number =>
    chiSquareTest([
      [a, 57 - a],
      [b, 57 - b],
    ]).pValue;
  it('kept to the hours: 47/57 against 21/57, printed P < 0.001', () => {
    expect(compare(47, 21)).toBeLessThan(0.001);
    expectNear(newcombeDifference(47, 57, 21, 57).estimate, 26 / 57, 1e-15);
  });
  it('recurrence: 11/57 against 22/57, printed P < 0.02, recomputed 0.023', () => {
    expect(compare(11, 22).toFixed(3)).toBe('0.023');
  });
  it('skin complications: 2/57 against 11/57, printed P < 0.008, recomputed 0.008', () => {
    expect(compare(2, 11).toFixed(4)).toBe('0.0080');
  });
});

describe('infants who needed casts (J Bone Joint Surg Am 1966;48-A)', () => {
  it('is 44 of 379, 11.6 %', () => {
    const { estimate, lower, upper } = wilsonInterval(44, 379);
    expect((100 * estimate).toFixed(1)).toBe('11.6');
    expect(lower).toBeLessThan(estimate);
    expect(upper).toBeGreaterThan(estimate);
  });
});
