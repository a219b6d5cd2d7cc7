import { describe, expect, it } from 'vitest';
import {
  acceleratedFailureModel,
  acceleratedFailureQuantile,
  type FailureDistribution,
} from '../../../../src/statistics/regression/accelerated-failure/index.ts';
import { dataset, numbers, referenceValues } from '../../../reference/load.ts';
import { expectClose, frozen, indicator } from '../../relative.ts';

// Reference: R 4.2.2, survival 3.5-3, with convergence tolerance 1e-13 (tests/reference/scripts/make-reference.R).
interface ReferenceFit {
  readonly coef: number[];
  readonly scale: number;
  readonly vcov: number[][];
  readonly se: number[];
  readonly loglik: number;
  readonly loglikNull: number;
  readonly quantile: number[][];
  readonly quantileSe: number[][];
}
type ReferenceSet = Record<string, ReferenceFit>;

const NAMES: readonly (readonly [FailureDistribution, string])[] = [
  ['weibull', 'weibull'],
  ['exponential', 'exponential'],
  ['log-normal', 'lognormal'],
  ['log-logistic', 'loglogistic'],
];
const PROBABILITIES = [0.1, 0.25, 0.5, 0.75, 0.9];

const lung = dataset('lung');
const ovarian = dataset('ovarian');
const simulated = dataset('ic_sim');
const cosmesis = dataset('cosmesis');

function bound(rows: typeof lung, field: string): number[] {
  return rows.map(row =>
    row[field] === 'Inf' || row[field] === '' ? Number.POSITIVE_INFINITY : Number(row[field]),
  );
}

const died = numbers(lung, 'status').map(status => status - 1);
const CASES = [
  {
    name: 'lung',
    values: referenceValues('survreg-lung').values as ReferenceSet,
    data: { time: numbers(lung, 'time'), event: died },
    covariates: { age: numbers(lung, 'age'), sex: numbers(lung, 'sex') },
    at: [
      { age: 60, sex: 1 },
      { age: 60, sex: 2 },
    ],
  },
  {
    name: 'lung without covariates',
    values: referenceValues('survreg-lung-null').values as ReferenceSet,
    data: { time: numbers(lung, 'time'), event: died },
    covariates: {},
    at: [],
  },
  {
    name: 'ovarian',
    values: referenceValues('survreg-ovarian').values as ReferenceSet,
    data: { time: numbers(ovarian, 'futime'), event: numbers(ovarian, 'fustat') },
    covariates: { ecog: numbers(ovarian, 'ecog.ps'), rx: numbers(ovarian, 'rx') },
    at: [
      { ecog: 1, rx: 1 },
      { ecog: 1, rx: 2 },
    ],
  },
  {
    name: 'simulated, exact, right- and interval-censored',
    values: (referenceValues('survreg-interval').values as Record<string, ReferenceSet>)['icSim'] ?? {},
    data: { lower: bound(simulated, 'left'), upper: bound(simulated, 'right') },
    covariates: { trt: numbers(simulated, 'trt'), x: numbers(simulated, 'x') },
    at: [
      { trt: 0, x: 0 },
      { trt: 1, x: 0 },
    ],
  },
  {
    name: 'breast cosmesis, left-, right- and interval-censored',
    values: (referenceValues('survreg-interval').values as Record<string, ReferenceSet>)['cosmesis'] ?? {},
    data: { lower: bound(cosmesis, 'left'), upper: bound(cosmesis, 'right') },
    covariates: { radiotherapy: indicator(cosmesis, 'group', 'RT') },
    at: [{ radiotherapy: 0 }, { radiotherapy: 1 }],
  },
] as const;

describe('acceleratedFailureModel against reference fits', () => {
  for (const { name, values, data, covariates, at } of CASES) {
    for (const [distribution, key] of NAMES) {
      it(`${name}, ${distribution}`, () => {
        const reference = values[key] as ReferenceFit;
        const model = acceleratedFailureModel(frozen(data), frozen(covariates), { distribution });
        expect(model.converged).toBe(true);
        expectClose(
          model.terms.map(term => term.coefficient),
          reference.coef,
        );
        expectClose(model.scale, reference.scale);
        expectClose(model.logLikelihood, reference.loglik);
        expectClose(model.nullLogLikelihood, reference.loglikNull);
        expectClose(model.covariance, reference.vcov, 1e-8);
        const errors = model.terms.map(term => term.standardError);
        if (model.logScaleStandardError !== undefined) errors.push(model.logScaleStandardError);
        expectClose(errors, reference.se);
        for (const [i, covariates] of at.entries()) {
          const quantiles = acceleratedFailureQuantile(model, covariates, PROBABILITIES);
          expectClose(
            quantiles.map(q => q.estimate),
            reference.quantile[i],
          );
          expectClose(
            quantiles.map(q => q.standardError),
            reference.quantileSe[i],
          );
        }
      });
    }
  }
});

describe('clustered errors', () => {
  it('diabetic retinopathy by patient, Weibull', () => {
    const rows = dataset('diabetic');
    const reference = referenceValues('survreg-robust').values as {
      coef: number[];
      scale: number;
      vcovRobust: number[][];
      vcovNaive: number[][];
      loglik: number;
    };
    const model = acceleratedFailureModel(
      {
        time: numbers(rows, 'time'),
        event: numbers(rows, 'status'),
        covariates: { trt: numbers(rows, 'trt') },
        cluster: numbers(rows, 'id'),
      },
      { distribution: 'weibull' },
    );
    expectClose(
      model.terms.map(term => term.coefficient),
      reference.coef,
    );
    expectClose(model.naiveCovariance, reference.vcovNaive, 1e-8);
    expectClose(model.covariance, reference.vcovRobust, 1e-8);
    expectClose(
      model.terms.map(term => term.robustStandardError),
      [0, 1].map(j => Math.sqrt(reference.vcovRobust[j]?.[j] ?? 0)),
    );
    expect(model.clusters).toBe(new Set(numbers(rows, 'id')).size);
  });
});
