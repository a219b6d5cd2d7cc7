import { describe, expect, it } from 'vitest';
import { StatisticsError, type StatisticsErrorCode } from '../../../../src/statistics/errors.ts';
import { coxBaselineHazard } from '../../../../src/statistics/regression/cox/baseline-hazard.ts';
import { coxModel } from '../../../../src/statistics/regression/cox/cox-model.ts';
import { coxResiduals } from '../../../../src/statistics/regression/cox/residuals.ts';
import { coxSurvival } from '../../../../src/statistics/regression/cox/survival-curve.ts';
import type { CoxData, CoxModel } from '../../../../src/statistics/regression/cox/types.ts';

const good: CoxData = {
  time: [5, 3, 8, 1, 4, 6],
  event: [1, 0, 1, 1, 1, 0],
  covariates: { x: [1, 0, 2, 1, 0, 3], y: [4, 1, 5, 2, 2, 1] },
};

const refused: readonly (readonly [string, CoxData, StatisticsErrorCode, RegExp])[] = [
  ['no rows', { time: [], event: [], covariates: { x: [] } }, 'empty', /time is empty/],
  ['no covariates', { ...good, covariates: {} }, 'empty', /covariates is empty/],
  ['a missing time', { ...good, time: [5, NaN, 8, 1, 4, 6] }, 'missing-value', /time\[1\]/],
  ['an endless time', { ...good, time: [5, Infinity, 8, 1, 4, 6] }, 'not-finite', /time\[1\]/],
  ['a negative time', { ...good, time: [5, -3, 8, 1, 4, 6] }, 'out-of-range', /time\[1\] is -3/],
  ['an event of 2', { ...good, event: [1, 0, 2, 1, 1, 0] }, 'out-of-range', /event\[2\] is 2/],
  ['a short column', { ...good, event: [1, 0] }, 'length', /event has 2 values; 6/],
  ['no events', { ...good, event: [0, 0, 0, 0, 0, 0] }, 'no-events', /event is 0 in every row/],
  ['entry at exit', { ...good, entry: [0, 0, 8, 0, 0, 0] }, 'entry-not-before-exit', /entry\[2\] is 8/],
  ['a weight of 0', { ...good, weight: [1, 1, 1, 0, 1, 1] }, 'out-of-range', /weight\[3\] is 0/],
  [
    'a missing covariate',
    { ...good, covariates: { x: [1, 0, NaN, 1, 0, 3] } },
    'missing-value',
    /covariates.x\[2\]/,
  ],
  ['a missing label', { ...good, strata: ['a', 'a', 'b', NaN, 'b', 'a'] }, 'missing-value', /strata\[3\]/],
  ['a missing offset', { ...good, offset: [0, 0, 0, 0, 0, NaN] }, 'missing-value', /offset\[5\]/],
  ['one cluster', { ...good, cluster: [1, 1, 1, 1, 1, 1] }, 'one-group', /cluster is 1 in every row/],
  [
    'a constant covariate',
    { ...good, covariates: { ...good.covariates, site: [2, 2, 2, 2, 2, 2] } },
    'constant-covariate',
    /covariates.site is 2 in every row/,
  ],
  [
    'a covariate that does not vary within strata',
    {
      ...good,
      strata: [1, 1, 1, 2, 2, 2],
      covariates: { x: [1, 0, 2, 1, 0, 3], clinic: [1, 1, 1, 2, 2, 2] },
    },
    'constant-covariate',
    /covariates.clinic does not vary within any risk set/,
  ],
  [
    'collinear covariates',
    {
      ...good,
      covariates: { ...good.covariates, sum: [5, 1, 7, 3, 2, 4], z: [1, 0, 0, 1, 1, 0] },
    },
    'collinear-covariates',
    /covariates.sum is a linear combination of x, y/,
  ],
];

function caught(run: () => unknown): StatisticsError {
  try {
    run();
  } catch (error) {
    if (error instanceof StatisticsError) return error;
    throw error;
  }
  return expect.fail('nothing was thrown');
}

function numbersThatAreNot(value: unknown, path: string): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${path} is ${value}`];
  if (value === null) return [`${path} is null`];
  if (typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, inner]) => numbersThatAreNot(inner, `${path}.${key}`));
}

/** No number in a result may be anything but a finite number. */
function expectFinite(value: unknown): void {
  expect(numbersThatAreNot(value, 'model')).toEqual([]);
}

describe('what coxModel refuses', () => {
  it.each(refused)('%s', (_, data, code, message) => {
    const error = caught(() => coxModel(data));
    expect(error.code).toBe(code);
    expect(error.message).toMatch(message);
  });

  it('options that are not offered', () => {
    // @ts-expect-error: exact ties are not offered
    expect(caught(() => coxModel(good, { ties: 'exact' })).code).toBe('unknown-option');
    // @ts-expect-error: no such penalty
    expect(caught(() => coxModel(good, { penalty: 'ridge' })).code).toBe('unknown-option');
    expect(caught(() => coxModel(good, { level: 95 })).message).toMatch(/level is 95/);
  });
});

describe('separation', () => {
  const separated: CoxData = {
    time: [1, 2, 3, 4, 5, 6, 7, 8],
    event: [1, 1, 1, 0, 0, 0, 0, 0],
    covariates: { age: [3, 5, 2, 4, 4, 1, 5, 2], braced: [1, 1, 1, 1, 0, 0, 0, 0] },
  };
  const expectNamed = (model: CoxModel, name: string): void => {
    expect(model.converged).toBe(false);
    expect(model.warnings.map(({ code, covariates }) => ({ code, covariates }))).toEqual([
      { code: 'monotone-likelihood', covariates: [name] },
    ]);
    const term = model.terms.find(other => other.name === name);
    expect(term?.estimate).toBe('infinite');
    expect(term?.coefficient).toBeUndefined();
    expect(term?.hazardRatio).toBeUndefined();
    expect(term?.pValue).toBeUndefined();
    expect(model.covariance).toBeUndefined();
    expect(model.waldTest).toBeUndefined();
    expectFinite({ ...model, data: undefined });
  };

  it('names the covariate, and gives tests that do not need an estimate', () => {
    const model = coxModel(separated);
    expectNamed(model, 'braced');
    expect(model.terms[0]?.estimate).toBe('finite');
    expect(model.likelihoodRatioTest.pValue).toBeLessThan(0.2);
    expect(caught(() => coxResiduals(model, 'martingale')).code).toBe('not-converged');
    expect(caught(() => coxBaselineHazard(model)).message).toMatch(/braced/);
    expect(caught(() => coxSurvival(model, { age: 3, braced: 1 })).code).toBe('not-converged');
  });

  it('in the other direction, with clusters, late entry, weights and other units', () => {
    const covariates = { braced: [0, 0, 0, 0, 1000, 1000, 1000, 1000] };
    const entry = separated.time as number[];
    expectNamed(
      coxModel({
        ...separated,
        covariates,
        entry: entry.map(t => (t > 4 ? 0.5 : 0)),
        weight: entry.map(t => t / 1e4),
        cluster: [1, 1, 2, 2, 3, 3, 4, 4],
      }),
      'braced',
    );
  });

  it('along a continuous covariate', () => {
    const time = [1, 2, 3, 4, 5, 6];
    expectNamed(
      coxModel({ time, event: [1, 1, 1, 1, 1, 0], covariates: { dose: time.map(t => 10 - t) } }),
      'dose',
    );
  });

  it('is not seen in a strong effect that is finite', () => {
    const time = Array.from({ length: 60 }, (_, i) => i + 1);
    const model = coxModel({
      time,
      event: time.map(t => (t <= 40 ? 1 : 0)),
      covariates: { braced: time.map(t => (t <= 38 || t === 60 ? 1 : 0)) },
    });
    expect(model.converged).toBe(true);
    expect(model.terms[0]?.coefficient).toBeGreaterThan(3);
  });
});

describe('small samples', () => {
  it('fit one event', () => {
    const model = coxModel({ time: [2, 3, 4], event: [1, 0, 0], covariates: { x: [1, 0, 3] } });
    expect(model.events).toBe(1);
    expect(model.converged).toBe(true);
    expectFinite({ ...model, data: undefined });
  });

  it('have no robust test with no more clusters than covariates', () => {
    const model = coxModel({ ...good, cluster: [1, 1, 1, 2, 2, 2] });
    expect(model.waldTest).toBeUndefined();
    expectFinite({ ...model, data: undefined });
  });
});
