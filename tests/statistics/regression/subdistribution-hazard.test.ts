import { describe, expect, it } from 'vitest';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { coxModel } from '../../../src/statistics/regression/cox/cox-model.ts';
import {
  type SubdistributionModel,
  subdistributionHazardModel,
  subdistributionIncidence,
} from '../../../src/statistics/regression/subdistribution-hazard.ts';
import { expectAllClose, expectClose, expectRowsClose } from './close.ts';

const rows = dataset('mgus2_cr').filter(row => row['age'] !== '' && row['mspike'] !== '');
const data = {
  time: numbers(rows, 'etime'),
  cause: numbers(rows, 'event'),
  covariates: {
    age: numbers(rows, 'age'),
    male: rows.map(row => (row['sex'] === 'M' ? 1 : 0)),
    mspike: numbers(rows, 'mspike'),
  },
};
for (const column of [data.time, data.cause, ...Object.values(data.covariates)]) Object.freeze(column);

interface Weighted {
  readonly coef: number[];
  readonly hr: number[];
  readonly se: number[];
  readonly robustSe: number[];
  readonly z: number[];
  readonly p: number[];
  readonly loglikNull: number;
  readonly loglik: number;
  readonly lrt: number;
  readonly wald: number;
  readonly score: number;
  readonly robustScore: number;
}

interface FineGray {
  readonly coef: number[];
  readonly se: number[];
  readonly vcov: number[][];
  readonly vcovNaive: number[][];
  readonly z: number[];
  readonly loglik: number;
  readonly loglikNull: number;
  readonly baseTimes: number[];
  readonly baseJumps: number[];
}

const values = referenceValues('finegray').values as Record<string, unknown>;
const column = (
  model: SubdistributionModel,
  field: 'coefficient' | 'standardError' | 'z' | 'pValue' | 'hazardRatio',
) => model.terms.map(term => term[field]);

describe('subdistributionHazardModel', () => {
  // R's cmprsk 2.2-11 stops when the gradient is below 1e-10: its own distance from the optimum is 4e-10.
  it.each([
    ['pcm', 1],
    ['death', 2],
  ] as const)('%s as in cmprsk: events at risk of a tied censoring, weights estimated', (name, cause) => {
    const reference = values[name] as FineGray;
    const model = subdistributionHazardModel(data, { cause });
    expectAllClose(column(model, 'coefficient'), reference.coef, 1e-8, 'coefficient');
    expectAllClose(column(model, 'standardError'), reference.se, 1e-9, 'standard error');
    expectAllClose(column(model, 'z'), reference.z, 1e-8, 'z');
    expectRowsClose(model.covariance, reference.vcov, 1e-8, 'covariance');
    expectRowsClose(model.naiveCovariance, reference.vcovNaive, 1e-8, 'naive covariance');
    expectClose(model.logLikelihood.initial, reference.loglikNull, 1e-12);
    expectClose(model.logLikelihood.final, reference.loglik, 1e-12);
    const baseline = model.baseline ?? { time: [], cumulativeHazard: [] };
    expect(baseline.time).toEqual(reference.baseTimes);
    let sum = 0;
    expectAllClose(
      baseline.cumulativeHazard,
      reference.baseJumps.map(jump => (sum += jump)),
      1e-7,
      'baseline',
    );
  });

  it('predicted incidence as in cmprsk', () => {
    const reference = values['predictPcm'] as { time: number[]; cif: number[] };
    const curve = subdistributionIncidence(subdistributionHazardModel(data), {
      age: 70,
      male: 1,
      mspike: 1.2,
    });
    expect(curve.time).toEqual(reference.time);
    expectAllClose(curve.incidence, reference.cif, 1e-8);
  });

  it.each([
    ['finegrayPcm', 'cluster', 1, 'efron'],
    ['finegrayPcm', 'breslowCluster', 1, 'breslow'],
    ['finegrayDeath', 'cluster', 2, 'efron'],
    ['finegrayDeath', 'breslowCluster', 2, 'breslow'],
  ] as const)('%s %s as a weighted Cox model in survival 3.5-3', (name, key, cause, ties) => {
    const reference = (values[name] as Record<string, Weighted>)[key] as Weighted;
    const model = subdistributionHazardModel(data, {
      cause,
      ties,
      tiedCensoring: 'events-removed',
      censoringUncertainty: false,
    });
    expectAllClose(column(model, 'coefficient'), reference.coef);
    expectAllClose(column(model, 'hazardRatio'), reference.hr);
    expectAllClose(column(model, 'standardError'), reference.robustSe);
    expectAllClose(column(model, 'z'), reference.z);
    expectAllClose(column(model, 'pValue'), reference.p, 1e-7);
    expectAllClose(
      (model.naiveCovariance ?? []).map((row, j) => Math.sqrt(row[j] as number)),
      reference.se,
    );
    expectClose(model.logLikelihood.initial, reference.loglikNull, 1e-12);
    expectClose(model.logLikelihood.final, reference.loglik, 1e-12);
    expectClose(model.likelihoodRatioTest.statistic, reference.lrt);
    expectClose(model.waldTest?.statistic, reference.wald);
    expectClose(model.scoreTest.statistic, reference.score);
    expectClose(model.robustScoreTest?.statistic, reference.robustScore);
  });

  it('is the Cox model where there is one cause', () => {
    const one = { ...data, cause: data.cause.map(cause => (cause === 1 ? 1 : 0)) };
    const cox = coxModel(
      { ...one, event: one.cause, cluster: one.cause.map((_, i) => i) },
      { ties: 'breslow' },
    );
    const model = subdistributionHazardModel(one);
    expectAllClose(
      column(model, 'coefficient'),
      cox.terms.map(term => term.coefficient as number),
      1e-12,
    );
    expectAllClose(
      column(model, 'standardError'),
      cox.terms.map(term => term.robustStandardError as number),
      1e-12,
    );
    expectClose(model.concordance.estimate, cox.concordance.estimate as number, 1e-12);
  });

  it('is the Cox model with competing rows kept for ever where no one is censored', () => {
    const time = [5, 2, 8, 3, 3, 9, 1, 7, 6, 4, 11, 10];
    const cause = [1, 2, 1, 1, 2, 1, 1, 2, 1, 1, 1, 2];
    const covariates = { x: [0, 1, 0, 1, 1, 0, 1, 0, 1, 1, 0, 0] };
    const kept = time.map((t, i) => (cause[i] === 1 ? t : 99));
    const cox = coxModel(
      {
        time: kept,
        event: cause.map(c => (c === 1 ? 1 : 0)),
        covariates,
        cluster: time.map((_, i) => i),
      },
      { ties: 'breslow' },
    );
    const model = subdistributionHazardModel({ time, cause, covariates });
    expectClose(model.terms[0]?.coefficient, cox.terms[0]?.coefficient as number, 1e-12);
    expectClose(model.terms[0]?.standardError, cox.terms[0]?.robustStandardError as number, 1e-12);
    expectClose(model.concordance.estimate, cox.concordance.estimate as number, 1e-12);
  });

  it('sums the influence of the rows of a cluster', () => {
    const twice = {
      time: [...data.time, ...data.time],
      cause: [...data.cause, ...data.cause],
      covariates: Object.fromEntries(
        Object.entries(data.covariates).map(([name, x]) => [name, [...x, ...x]]),
      ),
      cluster: [...data.time, ...data.time].map((_, i) => i % data.time.length),
    };
    const once = subdistributionHazardModel(data);
    const model = subdistributionHazardModel(twice);
    expectAllClose(column(model, 'coefficient'), column(once, 'coefficient') as number[], 1e-9);
    // Two copies of each row in one cluster carry no more information than one.
    expectAllClose(column(model, 'standardError'), column(once, 'standardError') as number[], 1e-9);
  });

  it('refuses a cause that no row has, and causes that are not whole numbers', () => {
    expect(() => subdistributionHazardModel(data, { cause: 3 })).toThrow(/no row has cause 3/);
    expect(() => subdistributionHazardModel(data, { cause: 0 })).toThrow(/no row has cause 0/);
    expect(() => subdistributionHazardModel({ ...data, cause: data.cause.map(c => c / 2) })).toThrow(
      /cause\[\d+\] is 0.5/,
    );
    expect(() => subdistributionHazardModel({ ...data, cause: [1] })).toThrow(/cause has 1 values/);
  });

  it('names the covariate of a separation and gives no estimate', () => {
    const model = subdistributionHazardModel({
      time: [1, 2, 3, 4, 5, 6, 7, 8],
      cause: [1, 1, 1, 0, 2, 0, 2, 0],
      covariates: { exposed: [1, 1, 1, 1, 0, 0, 0, 0] },
    });
    expect(model.converged).toBe(false);
    expect(model.warnings[0]?.covariates).toEqual(['exposed']);
    expect(model.terms[0]?.coefficient).toBeUndefined();
    expect(() => subdistributionIncidence(model, { exposed: 1 })).toThrow(/no estimate/);
  });
});
