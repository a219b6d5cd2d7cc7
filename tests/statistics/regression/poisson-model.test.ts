import { describe, expect, it } from 'vitest';
import { poissonModel } from '../../../src/statistics/regression/poisson-model.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { expectClose, frozen, indicator } from '../relative.ts';

// Reference: R 4.2.2 glm with epsilon 1e-14 (tests/reference/scripts/make-reference.R).
interface ReferenceFit {
  readonly coef: number[];
  readonly se: number[];
  readonly z: number[];
  readonly p: number[];
  readonly deviance: number;
  readonly nullDeviance: number;
  readonly loglik: number;
  readonly vcov: number[][];
  readonly waldCi95: number[][];
}
const reference = referenceValues('glm-count').values as {
  insurance: ReferenceFit;
  insurancePearsonDispersion: number;
  quinePoisson: ReferenceFit;
  warpPoisson: ReferenceFit;
};

describe('poissonModel against reference fits', () => {
  it('insurance claims with an offset', () => {
    const rows = dataset('Insurance');
    const covariates: Record<string, number[]> = {};
    for (const [field, levels] of [
      ['District', ['2', '3', '4']],
      ['Group', ['1-1.5l', '1.5-2l', '>2l']],
      ['Age', ['25-29', '30-35', '>35']],
    ] as const) {
      for (const level of levels) covariates[field + level] = indicator(rows, field, level);
    }
    const model = poissonModel(
      frozen({
        outcome: numbers(rows, 'Claims'),
        covariates,
        offset: numbers(rows, 'Holders').map(Math.log),
      }),
    );
    const expected = reference.insurance;
    expectClose(
      model.terms.map(t => t.coefficient),
      expected.coef,
    );
    expectClose(
      model.terms.map(t => t.standardError),
      expected.se,
    );
    expectClose(
      model.terms.map(t => t.z),
      expected.z,
    );
    // A tail far out multiplies the relative error of z by z squared: the intercept's z is -24.
    expectClose(
      model.terms.map(t => t.pValue),
      expected.p,
      1e-7,
      0,
    );
    expectClose(model.covariance, expected.vcov);
    expectClose(model.deviance, expected.deviance);
    expectClose(model.nullDeviance, expected.nullDeviance);
    expectClose(model.logLikelihood, expected.loglik);
    expectClose(model.dispersion, reference.insurancePearsonDispersion);
    expectClose(
      model.terms.map(t => [t.lower, t.upper]),
      expected.waldCi95.map(limits => limits.map(Math.exp)),
    );
  });

  it('days absent from school', () => {
    const rows = dataset('quine');
    const model = poissonModel({
      outcome: numbers(rows, 'Days'),
      covariates: {
        ethN: indicator(rows, 'Eth', 'N'),
        male: indicator(rows, 'Sex', 'M'),
        f1: indicator(rows, 'Age', 'F1'),
        f2: indicator(rows, 'Age', 'F2'),
        f3: indicator(rows, 'Age', 'F3'),
        slow: indicator(rows, 'Lrn', 'SL'),
      },
    });
    expectClose(
      model.terms.map(t => t.coefficient),
      reference.quinePoisson.coef,
    );
    expectClose(
      model.terms.map(t => t.standardError),
      reference.quinePoisson.se,
    );
    expectClose(model.deviance, reference.quinePoisson.deviance);
    expectClose(model.logLikelihood, reference.quinePoisson.loglik);
  });

  it('warp breaks', () => {
    const rows = dataset('warpbreaks');
    const model = poissonModel({
      outcome: numbers(rows, 'breaks'),
      covariates: {
        woolB: indicator(rows, 'wool', 'B'),
        medium: indicator(rows, 'tension', 'M'),
        high: indicator(rows, 'tension', 'H'),
      },
    });
    expectClose(
      model.terms.map(t => t.coefficient),
      reference.warpPoisson.coef,
    );
    // Two of the covariances are 0 but for rounding.
    expectClose(model.covariance, reference.warpPoisson.vcov, 1e-9, 1e-6);
    // The intercept's p-value, 0 in the reference, is a number: its z is 81.
    expect(model.terms[0]?.pValue).toBeGreaterThanOrEqual(0);
  });

  it('robust errors of a rate ratio: two groups by hand', () => {
    // With one indicator the fit is each group's mean m, and hc0 is sum (y - m)^2 / (sum m)^2 in each group.
    const outcome = [3, 0, 4, 1, 2, 2, 9, 5];
    const late = [0, 0, 0, 0, 1, 1, 1, 1];
    const model = poissonModel({ outcome, covariates: { late } }, { robust: 'hc0' });
    const part = (values: number[]): number => {
      const total = values.reduce((sum, y) => sum + y, 0);
      const mean = total / values.length;
      return values.reduce((sum, y) => sum + (y - mean) ** 2, 0) / total ** 2;
    };
    expectClose(model.terms[1]?.rateRatio, 18 / 8);
    expectClose(
      model.terms[1]?.robustStandardError,
      Math.sqrt(part(outcome.slice(0, 4)) + part(outcome.slice(4))),
    );
  });
});

describe('edges', () => {
  it('a group without events is separated, and named', () => {
    const model = poissonModel({ outcome: [2, 1, 3, 0, 0], covariates: { padded: [0, 0, 0, 1, 1] } });
    expect(model.converged).toBe(false);
    expect(model.terms[1]).toMatchObject({ estimate: 'infinite', coefficient: undefined });
    expect(model.terms[0]?.estimate).toBe('undetermined');
    expect(model.separation).toEqual([{ name: 'padded', direction: 'down' }]);
    expect(model.dispersion).toBeUndefined();
  });

  it('counts of very different size converge from the start', () => {
    const model = poissonModel({ outcome: [1, 2, 1_000_000, 2_000_000], covariates: { x: [0, 0, 1, 1] } });
    expectClose(model.terms[1]?.coefficient, Math.log(1_000_000));
  });

  it('refuses negative and fractional counts, and no event at all', () => {
    const covariates = { x: [1, 2, 3] };
    expect(() => poissonModel({ outcome: [1, -1, 2], covariates })).toThrow(/outcome\[1\] is -1/);
    expect(() => poissonModel({ outcome: [1, 0.5, 2], covariates })).toThrow(/outcome\[1\] is 0.5/);
    expect(() => poissonModel({ outcome: [0, 0, 0], covariates })).toThrow(/at least one event/);
  });
});
