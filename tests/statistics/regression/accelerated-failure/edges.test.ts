import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { StatisticsError } from '../../../../src/statistics/errors.ts';
import {
  rowLikelihood,
  emptyRow,
} from '../../../../src/statistics/regression/accelerated-failure/censored-likelihood.ts';
import { censoredTimes } from '../../../../src/statistics/regression/accelerated-failure/censored-times.ts';
import { ERROR_DISTRIBUTIONS } from '../../../../src/statistics/regression/accelerated-failure/error-distribution.ts';
import {
  acceleratedFailureModel,
  acceleratedFailureQuantile,
  acceleratedFailureSurvival,
  coxSnellResiduals,
  type FailureDistribution,
} from '../../../../src/statistics/regression/accelerated-failure/index.ts';
import { randomStream } from '../../../../src/statistics/resampling/index.ts';
import { dataset, numbers, referenceValues } from '../../../reference/load.ts';
import { expectClose, frozen } from '../../relative.ts';

const DISTRIBUTIONS = ['exponential', 'weibull', 'log-normal', 'log-logistic'] as const;

describe('closed forms', () => {
  it('exponential: events over time at risk', () => {
    const model = acceleratedFailureModel(
      { time: [2, 4, 5, 9], event: [1, 0, 1, 1], covariates: {} },
      { distribution: 'exponential' },
    );
    expectClose(model.terms[0]?.timeRatio, 20 / 3);
    expectClose(model.terms[0]?.standardError, Math.sqrt(1 / 3));
    expectClose(model.logLikelihood, 3 * Math.log(3 / 20) - 3);
    expect(model.scale).toBe(1);
    expect(model.logScaleStandardError).toBeUndefined();
    expect(model.likelihoodRatioTest).toBeUndefined();
  });

  it('log-normal without censoring: mean and deviation of the logs', () => {
    const time = [3, 8, 1, 20, 6];
    const logs = time.map(Math.log);
    const mean = logs.reduce((sum, value) => sum + value, 0) / 5;
    const deviation = Math.sqrt(logs.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 5);
    const model = acceleratedFailureModel(
      { time, event: time.map(() => true), covariates: {} },
      { distribution: 'log-normal' },
    );
    expectClose(model.terms[0]?.coefficient, mean);
    expectClose(model.scale, deviation);
    expectClose(model.logScaleStandardError, Math.sqrt(1 / 10));
  });

  it('exponential between visits: one interval for all', () => {
    // Three of four known to have ended in (0, 2], one not by 2: exp(-2 h) = 1/4.
    const model = acceleratedFailureModel(
      { lower: [0, 0, 0, 2], upper: [2, 2, 2, Number.POSITIVE_INFINITY], covariates: {} },
      { distribution: 'exponential' },
    );
    expectClose(model.terms[0]?.timeRatio, 2 / Math.log(4));
    expectClose(model.logLikelihood, 3 * Math.log(3 / 4) + Math.log(1 / 4));
  });

  it('left-censored normal outcomes are log-normal times: durable goods, reference fit of the tobit model', () => {
    // Reference: R survival 3.5-3, Gaussian, left-censored at 0; exp turns it into a log-normal time above 1, and the
    // likelihood of exp(y) carries -y for each exact row.
    const rows = dataset('tobin');
    const reference = referenceValues('survreg-tobin').values as {
      coef: number[];
      scale: number;
      vcov: number[][];
      loglik: number;
    };
    const durable = numbers(rows, 'durable');
    const model = acceleratedFailureModel(
      {
        lower: durable.map(y => (y > 0 ? Math.exp(y) : 0)),
        upper: durable.map(y => (y > 0 ? Math.exp(y) : 1)),
        covariates: { age: numbers(rows, 'age'), quant: numbers(rows, 'quant') },
      },
      { distribution: 'log-normal' },
    );
    expectClose(
      model.terms.map(term => term.coefficient),
      reference.coef,
    );
    expectClose(model.scale, reference.scale);
    expectClose(model.covariance, reference.vcov, 1e-8);
    const jacobian = durable.reduce((sum, y) => sum + (y > 0 ? y : 0), 0);
    expectClose(model.logLikelihood + jacobian, reference.loglik);
  });
});

describe('derivatives', () => {
  it('of every kind of row agree with differences of the likelihood', () => {
    const rows = censoredTimes({
      lower: [3, 3, 0, 2],
      upper: [3, Number.POSITIVE_INFINITY, 4, 5.5],
    });
    const step = 1e-4;
    const value = (i: number, linear: number, logScale: number, name: FailureDistribution): number => {
      const row = emptyRow();
      rowLikelihood(rows, i, linear, Math.exp(logScale), ERROR_DISTRIBUTIONS[name], row);
      return row.value;
    };
    for (const name of DISTRIBUTIONS) {
      for (const i of [0, 1, 2, 3]) {
        for (const [linear, logScale] of [
          [1, 0],
          [0.3, -0.7],
          [2.5, 0.4],
        ] as const) {
          const row = emptyRow();
          rowLikelihood(rows, i, linear, Math.exp(logScale), ERROR_DISTRIBUTIONS[name], row);
          const at = (a: number, b: number): number => value(i, linear + a * step, logScale + b * step, name);
          const first = [at(1, 0) - at(-1, 0), at(0, 1) - at(0, -1)].map(change => change / (2 * step));
          const second = [
            (at(1, 0) - 2 * at(0, 0) + at(-1, 0)) / step ** 2,
            (at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / (4 * step ** 2),
            (at(0, 1) - 2 * at(0, 0) + at(0, -1)) / step ** 2,
          ];
          expectClose([row.linear, row.logScale], first, 1e-5, 1e-2);
          expectClose([row.linearLinear, row.linearLogScale, row.logScaleLogScale], second, 1e-4, 1e-1);
        }
      }
    }
  });

  it('stay finite far out in the tails', () => {
    const rows = censoredTimes({ lower: [1, 0, 1e-8], upper: [Number.POSITIVE_INFINITY, 1e-9, 2e-8] });
    for (const name of DISTRIBUTIONS) {
      for (const i of [0, 1, 2]) {
        const row = emptyRow();
        rowLikelihood(rows, i, i === 0 ? -4 : 4, 1, ERROR_DISTRIBUTIONS[name], row);
        for (const part of Object.values(row)) expect(Number.isFinite(part)).toBe(true);
      }
    }
  });
});

describe('properties', () => {
  const sample = fc.array(
    fc.record({
      time: fc.integer({ min: 1, max: 60 }),
      event: fc.boolean(),
      x: fc.integer({ min: 0, max: 3 }),
    }),
    { minLength: 15, maxLength: 40 },
  );

  it('times in days rather than weeks shift the intercept alone; rows and weights are the same thing', () => {
    fc.assert(
      fc.property(sample, fc.constantFrom(...DISTRIBUTIONS), (drawn, distribution) => {
        fc.pre(drawn.filter(row => row.event).length > 6 && new Set(drawn.map(row => row.x)).size > 2);
        const fit = (list: typeof drawn, unit: number, weight?: number) =>
          acceleratedFailureModel(
            {
              time: list.map(row => row.time * unit),
              event: list.map(row => row.event),
              covariates: { x: list.map(row => row.x) },
              weight: weight === undefined ? undefined : list.map(() => weight),
            },
            { distribution },
          );
        const weeks = fit(drawn, 1);
        fc.pre(weeks.converged);
        const days = fit(drawn, 7);
        expectClose(days.terms[1]?.coefficient, weeks.terms[1]?.coefficient, 1e-7, 1e-2);
        expectClose(
          (days.terms[0]?.coefficient ?? 0) - (weeks.terms[0]?.coefficient ?? 0),
          Math.log(7),
          1e-7,
        );
        expectClose(days.scale, weeks.scale, 1e-7);
        const twice = fit([...drawn, ...drawn], 1);
        const weighted = fit(drawn, 1, 2);
        expectClose(
          twice.terms.map(term => term.standardError),
          weighted.terms.map(term => term.standardError),
          1e-7,
        );
        expectClose(twice.logLikelihood, weighted.logLikelihood, 1e-9);
      }),
      { seed: 12, numRuns: 60 },
    );
  });

  it('recovers the truth it was simulated from, seen only at visits', () => {
    const random = randomStream(77);
    const n = 2000;
    const x = Array.from({ length: n }, (_, i) => i % 2);
    const scale = 0.5;
    const time = x.map(value => Math.exp(2 + 0.7 * value + scale * Math.log(random.exponential())));
    // Visits every 3 units up to 24.
    const lower = time.map(value => Math.min(24, 3 * Math.floor(value / 3)));
    const upper = lower.map(value => (value >= 24 ? Number.POSITIVE_INFINITY : value + 3));
    const model = acceleratedFailureModel({ lower, upper, covariates: { x } }, { distribution: 'weibull' });
    const [intercept, slope] = model.terms;
    expect(Math.abs((intercept?.coefficient ?? 0) - 2)).toBeLessThan(4 * (intercept?.standardError ?? 0));
    expect(Math.abs((slope?.coefficient ?? 0) - 0.7)).toBeLessThan(4 * (slope?.standardError ?? 0));
    expect(Math.abs(Math.log((model.scale ?? 0) / scale))).toBeLessThan(
      4 * (model.logScaleStandardError ?? 0),
    );
  });
});

describe('predictions and residuals', () => {
  const data = frozen({
    time: [5, 3, 8, 12, 7, 9, 2, 15],
    event: [1, 1, 0, 1, 1, 0, 1, 1],
    covariates: { x: [0, 1, 0, 1, 0, 1, 1, 0] },
  });

  it('quantile and survival are inverse to each other, and limits enclose them', () => {
    for (const distribution of DISTRIBUTIONS) {
      const model = acceleratedFailureModel(data, { distribution });
      for (const quantile of acceleratedFailureQuantile(model, { x: 1 }, [0.1, 0.5, 0.9])) {
        const [survival] = acceleratedFailureSurvival(model, { x: 1 }, [quantile.estimate]);
        expectClose(survival?.survival, 1 - quantile.probability);
        expect(quantile.lower).toBeLessThan(quantile.estimate);
        expect(quantile.upper).toBeGreaterThan(quantile.estimate);
        expect(survival?.lower).toBeLessThan(survival?.survival ?? 0);
        expect(survival?.upper).toBeGreaterThan(survival?.survival ?? 1);
      }
      expect(acceleratedFailureSurvival(model, { x: 0 }, [0])).toEqual([
        { time: 0, survival: 1, lower: 1, upper: 1 },
      ]);
    }
  });

  it('Cox-Snell residuals of exponential and Weibull fits add up to the events', () => {
    // The score of the intercept is (events - sum of cumulative hazards) / scale, so it vanishes at the maximum.
    for (const distribution of ['exponential', 'weibull'] as const) {
      const residuals = coxSnellResiduals(acceleratedFailureModel(data, { distribution }), data);
      expectClose(
        residuals.reduce((sum, residual) => sum + residual.lower, 0),
        6,
      );
      expect(residuals[2]?.upper).toBeUndefined();
      expect(residuals[0]?.upper).toBe(residuals[0]?.lower);
    }
  });

  it('Cox-Snell residuals of intervals are intervals', () => {
    const seen = { lower: [0, 2, 4, 3], upper: [2, 4, Number.POSITIVE_INFINITY, 3], covariates: {} };
    const [left, between, right, exact] = coxSnellResiduals(
      acceleratedFailureModel(seen, { distribution: 'log-logistic' }),
      seen,
    );
    expect(left?.lower).toBe(0);
    expectClose(left?.upper, between?.lower);
    expectClose(right?.lower, between?.upper);
    expect(exact?.upper).toBe(exact?.lower);
  });

  it('refuse unknown covariates, times and probabilities', () => {
    const model = acceleratedFailureModel(data, { distribution: 'weibull' });
    expect(() => acceleratedFailureQuantile(model, {}, [0.5])).toThrow(/covariates\.x/);
    expect(() => acceleratedFailureQuantile(model, { x: 1 }, [1])).toThrow(/probability is 1/);
    expect(() => acceleratedFailureSurvival(model, { x: 1 }, [-1])).toThrow(/times\[0\]/);
  });
});

describe('input it refuses and fits without a maximum', () => {
  const covariates = { x: [0, 0, 1, 1, 0, 1] };

  it('a group without any end is infinite, and named', () => {
    for (const distribution of DISTRIBUTIONS) {
      const model = acceleratedFailureModel(
        { time: [3, 5, 4, 6, 7, 9], event: [1, 1, 0, 0, 1, 0], covariates },
        { distribution },
      );
      expect(model.converged).toBe(false);
      expect(model.warnings[0]?.covariates).toEqual(['x']);
      expect(model.terms[1]).toMatchObject({
        estimate: 'infinite',
        coefficient: undefined,
        timeRatio: undefined,
      });
      expect(model.scale).toBeUndefined();
      expect(() => acceleratedFailureQuantile(model, { x: 1 }, [0.5])).toThrow(/did not converge/);
    }
  });

  it('equal times have no scale: not converged rather than a scale of 0', () => {
    const model = acceleratedFailureModel(
      { time: [4, 4, 4, 4], event: [1, 1, 1, 1], covariates: {} },
      { distribution: 'weibull' },
    );
    expect(model.converged).toBe(false);
    expect(model.terms[0]?.coefficient).toBeUndefined();
  });

  const base = { time: [1, 2, 3], event: [1, 0, 1], covariates: { x: [0, 1, 2] } };
  const weibull = { distribution: 'weibull' } as const;
  const cases: [string, () => unknown, string, RegExp][] = [
    [
      'nothing',
      () => acceleratedFailureModel({ time: [], event: [], covariates: {} }, weibull),
      'empty',
      /time/,
    ],
    [
      'all censored',
      () => acceleratedFailureModel({ ...base, event: [0, 0, 0] }, weibull),
      'no-events',
      /censored/,
    ],
    [
      'time 0',
      () => acceleratedFailureModel({ ...base, time: [1, 0, 3] }, weibull),
      'out-of-range',
      /time\[1\] is 0/,
    ],
    [
      'negative time',
      () => acceleratedFailureModel({ ...base, time: [1, -2, 3] }, weibull),
      'out-of-range',
      /time\[1\]/,
    ],
    [
      'NaN',
      () => acceleratedFailureModel({ ...base, time: [1, Number.NaN, 3] }, weibull),
      'missing-value',
      /time\[1\]/,
    ],
    [
      'bounds the wrong way round',
      () => acceleratedFailureModel({ lower: [3], upper: [2], covariates: {} }, weibull),
      'out-of-range',
      /upper\[0\] is 2/,
    ],
    [
      'a row that says nothing',
      () =>
        acceleratedFailureModel({ lower: [0], upper: [Number.POSITIVE_INFINITY], covariates: {} }, weibull),
      'out-of-range',
      /tells nothing/,
    ],
    [
      'a constant covariate',
      () => acceleratedFailureModel({ ...base, covariates: { x: [1, 1, 1] } }, weibull),
      'constant-covariate',
      /covariates\.x/,
    ],
    [
      'an unknown distribution',
      () => acceleratedFailureModel(base, { distribution: 'gamma' as 'weibull' }),
      'unknown-option',
      /gamma.*exponential, weibull, log-normal, log-logistic/,
    ],
    [
      'one cluster',
      () => acceleratedFailureModel({ ...base, cluster: [1, 1, 1] }, weibull),
      'one-group',
      /cluster/,
    ],
  ];
  for (const [name, run, code, message] of cases) {
    it(`refuses ${name}`, () => {
      let thrown: unknown;
      try {
        run();
      } catch (error) {
        thrown = error;
      }
      expect(thrown).toBeInstanceOf(StatisticsError);
      expect(thrown).toMatchObject({ code, message: expect.stringMatching(message) as unknown });
    });
  }
});
