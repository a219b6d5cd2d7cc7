import * as s from '../../../src/statistics/index.ts';
import { type ContractCall, x, w, shaped, list, table, options, interval, test } from './example.ts';

const value = [3.1, 2.2, 5.4, 2.2, 7.9, 6, 1.5, 4.4, 8.1];
const three = ['a', 'a', 'b', 'a', 'c', 'b', 'a', 'b', 'c'];

export const countsAndRanks: readonly ContractCall[] = [
  {
    name: 'fisherExact',
    columns: { a: [3, 9], b: [7, 2] },
    run: (c, l) => s.fisherExact(table(c), options(l)),
    fields: ['pValue', 'estimate', 'lower', 'upper'],
  },
  {
    name: 'chiSquareTest',
    columns: { a: [13, 9, 4], b: [7, 12, 11] },
    run: c => s.chiSquareTest(table(c)),
    fields: [...test, 'degreesOfFreedom'],
  },
  {
    name: 'trendInProportions',
    columns: { successes: [3, 6, 9], n: [12, 14, 13] },
    run: c => s.trendInProportions(list(c, 'successes'), list(c, 'n')),
    fields: test,
  },
  {
    name: 'mantelHaenszel',
    columns: { a: [3, 9], b: [7, 2], c: [5, 6], d: [8, 3] },
    run: (c, l) => {
      const [p, q, r, t] = table(c);
      return s.mantelHaenszel(
        [
          [p ?? [], q ?? []],
          [r ?? [], t ?? []],
        ],
        options(l),
      );
    },
    fields: [...interval, ...test],
  },
  {
    name: 'mcnemar',
    columns: { a: [30, 9], b: [4, 12] },
    run: (c, l) => s.mcnemar(table(c), options(l)),
    fields: [...test, 'degreesOfFreedom'],
  },
  {
    name: 'wilcoxonRankSum',
    columns: { value, second: [6.5, 2.2, 9, 3.3, 1] },
    run: (c, l) => s.wilcoxonRankSum(list(c, 'value'), list(c, 'second'), options(l)),
    fields: test,
  },
  {
    name: 'kruskalWallis',
    columns: { value, group: three },
    run: c => s.kruskalWallis(shaped(c)),
    fields: [...test, 'degreesOfFreedom'],
  },
  {
    name: 'dunnTest',
    columns: { value, group: three },
    run: c => s.dunnTest(shaped(c)),
    fields: ['groups', 'statistic', 'pValue'],
  },
  {
    name: 'jonckheereTerpstra',
    columns: { value, group: three },
    run: c => s.jonckheereTerpstra(shaped(c), { order: ['a', 'b', 'c'] }),
    fields: test,
  },
  {
    name: 'spearman',
    columns: { x, y: w },
    run: c => s.spearman(list(c, 'x'), list(c, 'y')),
    fields: ['estimate', ...test],
  },
  {
    name: 'kendall',
    columns: { x, y: w },
    run: c => s.kendall(list(c, 'x'), list(c, 'y')),
    fields: ['estimate', ...test],
  },
  ...(
    [
      [
        'wilsonInterval',
        (c: ArrayLike<number>, o: object) => s.wilsonInterval(c[0] as number, c[1] as number, o),
      ],
      [
        'clopperPearsonInterval',
        (c: ArrayLike<number>, o: object) => s.clopperPearsonInterval(c[0] as number, c[1] as number, o),
      ],
      [
        'poissonRateInterval',
        (c: ArrayLike<number>, o: object) => s.poissonRateInterval(c[0] as number, c[1] as number, o),
      ],
      [
        'newcombeDifference',
        (c: ArrayLike<number>, o: object) =>
          s.newcombeDifference(c[0] as number, c[1] as number, c[2] as number, c[3] as number, o),
      ],
      [
        'rateRatio',
        (c: ArrayLike<number>, o: object) =>
          s.rateRatio(c[0] as number, c[1] as number, c[2] as number, c[3] as number, o),
      ],
    ] as const
  ).map(
    ([name, run]): ContractCall => ({
      name,
      columns: { counts: [6, 21, 4, 30] },
      run: (c, l) => run(list(c, 'counts'), options(l)),
      fields: interval,
    }),
  ),
];

export const resamplingAndCharts: readonly ContractCall[] = [
  {
    name: 'bootstrap',
    columns: { cluster: [1, 1, 2, 3, 3, 4, 5, 6, 6] },
    run: (c, l) => {
      const values = Float64Array.from(value);
      return s.bootstrap(
        { n: values.length, cluster: c['cluster'] as ArrayLike<number> },
        rows => rows.reduce((sum, row) => sum + (values[row] as number), 0) / rows.length,
        { seed: 3, resamples: 200, ...options(l) },
      );
    },
    fields: ['estimate', 'percentile', 'bca'],
  },
  {
    name: 'permutationTest',
    columns: { group: three },
    run: c => {
      const values = Float64Array.from(value);
      return s.permutationTest(
        { group: c['group'] as ArrayLike<string> },
        codes => values.reduce((sum, v, i) => sum + (codes[i] === 0 ? v : 0), 0),
        { seed: 3, permutations: 199 },
      );
    },
    fields: ['statistic', 'pValue'],
  },
  {
    name: 'individualsChart',
    columns: { value },
    run: c => s.individualsChart(list(c, 'value')),
    fields: ['points', 'centre', 'limits', 'signals'],
  },
  {
    name: 'proportionChart',
    columns: { events: [2, 3, 1, 5, 4], n: [20, 20, 20, 20, 20] },
    run: c => s.proportionChart(shaped(c)),
    fields: ['points', 'centre', 'limits', 'signals'],
  },
  {
    name: 'rateChart',
    columns: { events: [2, 3, 1, 5, 4], time: [20, 20, 20, 20, 20] },
    run: c => s.rateChart(shaped(c)),
    fields: ['points', 'centre', 'limits', 'signals'],
  },
  {
    name: 'funnelLimits',
    columns: { events: [2, 3, 1, 5, 4], n: [20, 30, 25, 28, 40] },
    run: c => s.funnelLimits(shaped(c)),
    fields: ['points', 'centre', 'limits', 'signals'],
  },
  {
    name: 'cumulativeSum',
    columns: { value },
    run: c => s.cumulativeSum(list(c, 'value'), { target: 4, sigma: 1.5 }),
    fields: ['points', 'centre', 'limits', 'signals'],
  },
];

/** Functions of numbers alone, which have no columns to spoil. */
export const plans: readonly ContractCall[] = [
  {
    name: 'logRankSampleSize',
    columns: {},
    run: () => s.logRankSampleSize({ hazardRatio: 1.6, eventProbability: 0.7 }),
    fields: ['events', 'n'],
  },
  {
    name: 'proportionsSampleSize',
    columns: {},
    run: () => s.proportionsSampleSize({ p1: 0.3, p2: 0.5 }),
    fields: ['events', 'n'],
  },
];
