import * as s from '../../../src/statistics/index.ts';
import {
  type ContractCall,
  time,
  event,
  cause,
  entry,
  weight,
  group,
  strata,
  cluster,
  shaped,
  list,
  options,
  curveFields,
  interval,
} from './example.ts';

export const survival: readonly ContractCall[] = [
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
