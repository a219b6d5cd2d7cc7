import * as s from '../../../src/statistics/index.ts';

type Cell = number | string | boolean | undefined | null;

/** Named columns, one value a row. */
export type Columns = Readonly<Record<string, ArrayLike<Cell>>>;

/** One function of the published contract, with a small example of its input and the fields promised. */
export interface ContractCall {
  readonly name: keyof typeof s;
  /** What sets this example apart from others of the same function. */
  readonly variant?: string;
  readonly columns: Columns;
  readonly run: (columns: Columns, level?: number) => unknown;
  /** Promised of the result, or of each element where the result is an array. */
  readonly fields: readonly string[];
}

const time = [5, 3, 8, 3, 9, 12, 7, 5, 14, 2, 9, 6];
const event = [1, 1, 0, 1, 1, 0, 1, 0, 1, 1, 0, 1];
const cause = [1, 2, 0, 1, 2, 0, 1, 0, 1, 2, 0, 1];
const entry = [0, 1, 2, 0, 4, 3, 0, 2, 5, 0, 1, 2];
const weight = [1, 2, 1, 1, 3, 1, 1, 2, 1, 1, 1, 2];
const group = ['b', 'a', 'b', 'a', 'c', 'b', 'a', 'c', 'c', 'a', 'b', 'a'];
const strata = [1, 1, 2, 2, 1, 1, 2, 2, 1, 1, 2, 2];
const cluster = [7, 7, 3, 4, 4, 1, 1, 9, 9, 8, 2, 2];
const x = [0.5, 1.5, -0.25, 2, 0.75, -1, 1, 0.25, -0.5, 2.5, 0.1, 0.9];
const w = [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8];

/** Columns as the function's own type: the calls below are the place where loose columns meet exact types. */
function shaped(columns: object): never {
  return columns as never;
}

/** Moves the columns named x, w into `covariates`. */
function withCovariates(columns: Columns): never {
  const { x, w, ...others } = columns;
  return shaped({ ...others, covariates: { x, ...(w === undefined ? {} : { w }) } });
}

function list(columns: Columns, name: string): ArrayLike<number> {
  return columns[name] as ArrayLike<number>;
}

/** Columns a, b, ... as the rows of a table. */
function table(columns: Columns): ArrayLike<number>[] {
  return Object.values(columns) as ArrayLike<number>[];
}

function options(level: number | undefined): { level?: number } {
  return level === undefined ? {} : { level };
}

const curveFields = [
  'time',
  'atRisk',
  'events',
  'censored',
  'survival',
  'standardError',
  'lower',
  'upper',
  'n',
];
const coxFields = [
  'terms',
  'covariance',
  'logLikelihood',
  'likelihoodRatioTest',
  'waldTest',
  'scoreTest',
  'concordance',
  'n',
  'events',
  'iterations',
];
const interval = ['estimate', 'lower', 'upper'];
const test = ['statistic', 'pValue'];

const survival: readonly ContractCall[] = [
  {
    name: 'kaplanMeier',
    columns: { time, event },
    run: (c, l) => s.kaplanMeier(shaped(c), options(l)),
    fields: curveFields,
  },
  {
    name: 'kaplanMeier',
    variant: 'late entry, weights, clusters',
    columns: { time, event, entry, weight, cluster },
    run: (c, l) => s.kaplanMeier(shaped(c), options(l)),
    fields: curveFields,
  },
  {
    name: 'kaplanMeierByGroup',
    columns: { time, event, group },
    run: (c, l) => s.kaplanMeierByGroup(shaped(c), options(l)),
    fields: ['group', 'curve'],
  },
  {
    name: 'survivalQuantile',
    columns: { time, event },
    run: (c, l) => s.survivalQuantile(s.kaplanMeier(shaped(c), options(l)), 0.5),
    fields: interval,
  },
  {
    name: 'survivalAt',
    columns: { time, event },
    run: (c, l) => s.survivalAt(s.kaplanMeier(shaped(c), options(l)), [0, 5, 9.5]),
    fields: ['time', 'survival', 'standardError', 'lower', 'upper', 'atRisk'],
  },
  {
    name: 'restrictedMean',
    columns: { time, event },
    run: (c, l) => s.restrictedMean(s.kaplanMeier(shaped(c), options(l)), 10),
    fields: ['estimate', 'standardError', 'lower', 'upper'],
  },
  {
    name: 'nelsonAalen',
    columns: { time, event },
    run: (c, l) => s.nelsonAalen(shaped(c), { variance: 'binomial', ...options(l) }),
    fields: ['time', 'atRisk', 'events', 'cumulativeHazard', 'standardError', 'lower', 'upper'],
  },
  {
    name: 'logRankTest',
    columns: { time, event, group },
    run: c => s.logRankTest(shaped(c), { rho: 0, gamma: 0 }),
    fields: ['groups', 'statistic', 'degreesOfFreedom', 'pValue'],
  },
  {
    name: 'logRankTest',
    variant: 'strata and trend',
    columns: { time, event, group, strata },
    run: c =>
      s.logRankTest(shaped(c), { scores: [1, 2, 3].slice(0, new Set(Array.from(list(c, 'group'))).size) }),
    fields: ['groups', 'statistic', 'degreesOfFreedom', 'pValue', 'trend'],
  },
  {
    name: 'pairwiseLogRank',
    columns: { time, event, group },
    run: c => s.pairwiseLogRank(shaped(c), { adjust: 'holm' }),
    fields: ['groups', 'statistic', 'pValue', 'adjustedPValue'],
  },
  {
    name: 'turnbull',
    columns: { lower: [0, 2, 4, 1, 5, 3], upper: [3, 2, 9, 4, 8, 6] },
    run: c => s.turnbull(shaped(c)),
    fields: ['intervals', 'iterations', 'converged'],
  },
  {
    name: 'cumulativeIncidence',
    columns: { time, cause, entry, weight, cluster },
    run: (c, l) => s.cumulativeIncidence(shaped(c), options(l)).causes,
    fields: ['cause', 'time', 'atRisk', 'events', 'incidence', 'standardError', 'lower', 'upper'],
  },
  {
    name: 'grayTest',
    columns: { time, cause, group, strata },
    run: c => s.grayTest(shaped(c), { cause: 1, rho: 0 }),
    fields: ['statistic', 'degreesOfFreedom', 'pValue'],
  },
  {
    name: 'stateOccupancy',
    columns: {
      subject: [1, 1, 2, 3, 3, 4, 5],
      start: [0, 3, 0, 0, 5, 0, 0],
      stop: [3, 8, 6, 5, 9, 7, 4],
      from: ['cast', 'brace', 'cast', 'cast', 'brace', 'cast', 'cast'],
      to: ['brace', 'brace', 'cast', 'brace', 'cast', 'brace', 'brace'],
    },
    run: (c, l) => s.stateOccupancy(shaped(c), options(l)),
    fields: ['states', 'time', 'probability', 'standardError', 'meanTimeInState'],
  },
  {
    name: 'meanCumulativeCount',
    columns: {
      subject: [1, 1, 2, 3, 3, 4],
      time: [2, 5, 6, 3, 5, 7],
      event: [1, 1, 0, 1, 1, 0],
      end: [8, 8, 6, 9, 9, 7],
    },
    run: (c, l) => s.meanCumulativeCount(shaped(c), options(l)),
    fields: ['time', 'mean', 'standardError', 'lower', 'upper'],
  },
];

const models: readonly ContractCall[] = [
  {
    name: 'coxModel',
    columns: { time, event, x, w },
    run: (c, l) => s.coxModel(withCovariates(c), { ties: 'efron', ...options(l) }),
    fields: coxFields,
  },
  {
    name: 'coxModel',
    variant: 'start-stop, weights, strata, clusters',
    columns: { time, event, entry, weight, strata, cluster, x },
    run: (c, l) => s.coxModel(withCovariates(c), { ties: 'breslow', ...options(l) }),
    fields: [...coxFields, 'robustScoreTest'],
  },
  {
    name: 'coxBaselineHazard',
    columns: { time, event, x },
    run: (c, l) => s.coxBaselineHazard(s.coxModel(withCovariates(c), options(l))),
    fields: ['time', 'cumulativeHazard', 'standardError', 'lower', 'upper'],
  },
  {
    name: 'coxSurvival',
    columns: { time, event, x },
    run: (c, l) => s.coxSurvival(s.coxModel(withCovariates(c), options(l)), { x: 0.5 }),
    fields: ['time', 'survival', 'standardError', 'lower', 'upper'],
  },
  ...(['martingale', 'deviance'] as const).map(
    (kind): ContractCall => ({
      name: 'coxResiduals',
      variant: kind,
      columns: { time, event, x },
      run: c => s.coxResiduals(s.coxModel(withCovariates(c)), kind),
      fields: [],
    }),
  ),
  ...(['schoenfeld', 'scaled-schoenfeld', 'score', 'dfbeta'] as const).map(
    (kind): ContractCall => ({
      name: 'coxResiduals',
      variant: kind,
      columns: { time, event, x },
      run: c => s.coxResiduals(s.coxModel(withCovariates(c)), kind),
      fields: ['0'],
    }),
  ),
  ...(['kaplan-meier', 'identity', 'rank', 'log'] as const).map(
    (transform): ContractCall => ({
      name: 'proportionalHazardsTest',
      variant: transform,
      columns: { time, event, x, w },
      run: c => s.proportionalHazardsTest(s.coxModel(withCovariates(c)), { transform }),
      fields: ['terms', 'global'],
    }),
  ),
  {
    name: 'subdistributionHazardModel',
    columns: { time, cause, x, cluster },
    run: (c, l) => s.subdistributionHazardModel(withCovariates(c), { cause: 1, ...options(l) }),
    fields: coxFields,
  },
  ...(['exponential', 'weibull', 'log-normal', 'log-logistic'] as const).map(
    (distribution): ContractCall => ({
      name: 'acceleratedFailureModel',
      variant: distribution,
      columns: { time, event, x },
      run: (c, l) => {
        const { x, ...times } = c;
        return s.acceleratedFailureModel(shaped(times), shaped({ x }), {
          distribution,
          ...options(l),
        });
      },
      fields: ['terms', 'scale', 'logLikelihood'],
    }),
  ),
  {
    name: 'acceleratedFailureModel',
    variant: 'intervals',
    columns: { lower: [1, 2, 4, 1, 5, 3, 2, 6], upper: [3, 2, 9, 4, 8, 6, 7, 9], x: x.slice(0, 8) },
    run: (c, l) => {
      const { x, ...times } = c;
      return s.acceleratedFailureModel(shaped(times), shaped({ x }), {
        distribution: 'weibull',
        ...options(l),
      });
    },
    fields: ['terms', 'scale', 'logLikelihood'],
  },
  {
    name: 'linearModel',
    columns: { outcome: time, x, w, cluster },
    run: (c, l) => s.linearModel(withCovariates(c), options(l)),
    fields: ['terms'],
  },
  {
    name: 'logisticModel',
    columns: { outcome: event, x, cluster },
    run: (c, l) => s.logisticModel(withCovariates(c), options(l)),
    fields: ['terms'],
  },
  {
    name: 'poissonModel',
    columns: { outcome: w, x, offset: w.map(Math.log) },
    run: (c, l) => s.poissonModel(withCovariates(c), { robust: 'hc0', ...options(l) }),
    fields: ['terms'],
  },
];

const value = [3.1, 2.2, 5.4, 2.2, 7.9, 6, 1.5, 4.4, 8.1];
const three = ['a', 'a', 'b', 'a', 'c', 'b', 'a', 'b', 'c'];

const countsAndRanks: readonly ContractCall[] = [
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

const resamplingAndCharts: readonly ContractCall[] = [
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
const plans: readonly ContractCall[] = [
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

export const calls: readonly ContractCall[] = [
  ...survival,
  ...models,
  ...countsAndRanks,
  ...resamplingAndCharts,
  ...plans,
];

export function title({ name, variant }: ContractCall): string {
  return variant === undefined ? name : `${name} (${variant})`;
}
