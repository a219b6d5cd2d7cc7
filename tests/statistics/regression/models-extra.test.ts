import { describe, expect, it } from 'vitest';
import { acceleratedFailureModel } from '../../../src/statistics/regression/accelerated-failure/index.ts';
import { linearModel } from '../../../src/statistics/regression/linear-model.ts';
import { logisticModel } from '../../../src/statistics/regression/logistic-model.ts';
import { poissonModel } from '../../../src/statistics/regression/poisson-model.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { expectClose, indicator } from '../relative.ts';

// Reference: R 4.2.2, sandwich 3.0-2, survival 3.5-3 (tests/reference/scripts/make-models.R). Errors of generalised
// linear models are those at the maximum, so they agree to the house's tolerance without allowance.
type Matrices = Record<'HC0' | 'HC1' | 'HC2' | 'HC3', number[][]>;
interface ReferenceFit {
  readonly coef: number[];
  readonly vcov: number[][];
  readonly loglik: number;
  readonly deviance: number;
  readonly hc: Matrices;
  readonly cluster: Matrices;
}
interface FailureFit {
  readonly dist: string;
  readonly coef: number[];
  readonly scale: number;
  readonly loglik: number;
  readonly vcov: number[][];
  readonly vcovRobust: number[][];
  readonly vcovNaive: number[][];
}
const values = referenceValues('models-extra').values as {
  weightedLinear: ReferenceFit & { sigma: number; r2: number; adjR2: number; f: number };
  logistic: ReferenceFit;
  weightedLogistic: ReferenceFit;
  poisson: ReferenceFit;
  quine: ReferenceFit;
  weightedFailure: FailureFit[];
  clusteredFailure: FailureFit[];
};
const KINDS = [
  ['hc0', 'HC0'],
  ['hc1', 'HC1'],
  ['hc2', 'HC2'],
  ['hc3', 'HC3'],
] as const;
const DISTRIBUTIONS = {
  weibull: 'weibull',
  exponential: 'exponential',
  lognormal: 'log-normal',
  loglogistic: 'log-logistic',
} as const;

const cars = dataset('mtcars');
const carData = {
  outcome: numbers(cars, 'mpg'),
  covariates: { hp: numbers(cars, 'hp'), wt: numbers(cars, 'wt') },
  weight: numbers(cars, 'qsec'),
};
const births = dataset('infert');
const birthData = {
  outcome: numbers(births, 'case'),
  covariates: {
    age: numbers(births, 'age'),
    spontaneous: numbers(births, 'spontaneous'),
    induced: numbers(births, 'induced'),
  },
};
const pupils = dataset('quine');
const pupilData = {
  outcome: numbers(pupils, 'Days'),
  covariates: { slow: indicator(pupils, 'Lrn', 'SL'), male: indicator(pupils, 'Sex', 'M') },
};

describe('weighted least squares', () => {
  it('coefficients, errors, fit', () => {
    const model = linearModel(carData);
    const expected = values.weightedLinear;
    expectClose(
      model.terms.map(term => term.coefficient),
      expected.coef,
    );
    expectClose(model.covariance, expected.vcov);
    expectClose(model.logLikelihood, expected.loglik);
    expectClose(
      [model.sigma, model.rSquared, model.adjustedRSquared, model.fTest?.statistic],
      [expected.sigma, expected.r2, expected.adjR2, expected.f],
    );
  });
  for (const [robust, key] of KINDS) {
    it(`${robust}, by row and by cluster`, () => {
      expectClose(linearModel(carData, { robust }).covariance, values.weightedLinear.hc[key]);
      const clustered = { ...carData, cluster: numbers(cars, 'cyl') };
      expectClose(linearModel(clustered, { robust }).covariance, values.weightedLinear.cluster[key], 1e-8);
    });
  }
});

describe('logistic', () => {
  it('errors at the maximum agree closely', () => {
    const model = logisticModel(birthData);
    expectClose(model.covariance, values.logistic.vcov, 1e-11);
    const weighted = logisticModel({
      outcome: birthData.outcome,
      covariates: { spontaneous: birthData.covariates.spontaneous },
      weight: births.map((_, i) => 1 + ((i + 1) % 3)),
    });
    expectClose(
      weighted.terms.map(term => term.coefficient),
      values.weightedLogistic.coef,
    );
    expectClose(weighted.covariance, values.weightedLogistic.vcov);
    expectClose(weighted.deviance, values.weightedLogistic.deviance);
    expectClose(weighted.logLikelihood, values.weightedLogistic.loglik);
  });
  for (const [robust, key] of KINDS) {
    it(`${robust}, by row and by cluster`, () => {
      expectClose(logisticModel(birthData, { robust }).covariance, values.logistic.hc[key]);
      const clustered = { ...birthData, cluster: numbers(births, 'stratum') };
      expectClose(logisticModel(clustered, { robust }).covariance, values.logistic.cluster[key], 1e-8);
    });
  }
});

describe('Poisson', () => {
  it('with an offset, by district', () => {
    const rows = dataset('Insurance');
    const model = poissonModel({
      outcome: numbers(rows, 'Claims'),
      covariates: {
        two: indicator(rows, 'District', '2'),
        three: indicator(rows, 'District', '3'),
        four: indicator(rows, 'District', '4'),
      },
      offset: numbers(rows, 'Holders').map(Math.log),
    });
    expectClose(
      model.terms.map(term => term.coefficient),
      values.poisson.coef,
    );
    expectClose(model.covariance, values.poisson.vcov, 1e-9, 1e-6);
    expectClose(model.logLikelihood, values.poisson.loglik);
    expectClose(model.deviance, values.poisson.deviance);
  });
  for (const [robust, key] of KINDS) {
    it(`${robust}, by row and by cluster`, () => {
      expectClose(poissonModel(pupilData, { robust }).covariance, values.quine.hc[key]);
      const clustered = {
        ...pupilData,
        cluster: pupils.map(row => `${row['Eth']} ${row['Sex']} ${row['Age']}`),
      };
      expectClose(poissonModel(clustered, { robust }).covariance, values.quine.cluster[key], 1e-8);
    });
  }
});

describe('accelerated failure', () => {
  const lung = dataset('lung');
  const rats = dataset('rats');
  for (const expected of values.weightedFailure) {
    it(`weighted, ${expected.dist}`, () => {
      const model = acceleratedFailureModel(
        {
          time: numbers(lung, 'time'),
          event: numbers(lung, 'status').map(status => status === 2),
          covariates: { age: numbers(lung, 'age') },
          weight: lung.map((_, i) => 1 + ((i + 1) % 4)),
        },
        { distribution: DISTRIBUTIONS[expected.dist as keyof typeof DISTRIBUTIONS] },
      );
      expectClose(
        model.terms.map(term => term.coefficient),
        expected.coef,
      );
      expectClose(model.scale, expected.scale);
      expectClose(model.covariance, expected.vcov, 1e-8);
      expectClose(model.logLikelihood, expected.loglik);
    });
  }
  for (const expected of values.clusteredFailure) {
    it(`clustered by litter, ${expected.dist}; covariates as an argument of their own`, () => {
      const model = acceleratedFailureModel(
        { time: numbers(rats, 'time'), event: numbers(rats, 'status'), cluster: numbers(rats, 'litter') },
        { rx: numbers(rats, 'rx') },
        { distribution: DISTRIBUTIONS[expected.dist as keyof typeof DISTRIBUTIONS] },
      );
      expectClose(
        model.terms.map(term => term.coefficient),
        expected.coef,
      );
      expectClose(model.covariance, expected.vcovRobust, 1e-8);
      expectClose(model.naiveCovariance, expected.vcovNaive, 1e-8);
      expect(model.terms[0]?.robustStandardError).toBeGreaterThan(0);
    });
  }
});
