import * as s from '../../../src/statistics/index.ts';
import {
  type ContractCall,
  time,
  event,
  cause,
  entry,
  weight,
  strata,
  cluster,
  x,
  w,
  shaped,
  withCovariates,
  options,
  coxFields,
} from './example.ts';

export const models: readonly ContractCall[] = [
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
