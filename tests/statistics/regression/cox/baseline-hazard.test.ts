import { describe, expect, it } from 'vitest';
import { referenceValues } from '../../../reference/load.ts';
import { coxBaselineHazard } from '../../../../src/statistics/regression/cox/baseline-hazard.ts';
import { coxModel } from '../../../../src/statistics/regression/cox/cox-model.ts';
import { coxSurvival } from '../../../../src/statistics/regression/cox/survival-curve.ts';
import type { CoxModel } from '../../../../src/statistics/regression/cox/types.ts';
import { expectAllClose } from '../close.ts';
import * as data from './datasets.ts';

interface Baseline {
  readonly time: number[];
  readonly hazard: number[];
  readonly strata?: string[] | null;
}

type Limits = { readonly lower: (number | null)[][]; readonly upper: (number | null)[][] };

interface Predicted {
  readonly time: number[];
  readonly nRisk: number[];
  readonly nEvent: number[];
  readonly nCensor: number[];
  readonly surv: number[][];
  readonly cumhaz: number[][];
  readonly stdErrLogSurv: number[][];
  readonly ci: { readonly plain: Limits; readonly log: Limits; readonly 'log-log': Limits };
}

function column(rows: readonly (number | null)[][], k: number): (number | null)[] {
  return rows.map(row => row[k] as number | null);
}

function expectPredicted(
  model: CoxModel,
  covariates: Record<string, number>,
  k: number,
  expected: Predicted,
): void {
  const curve = coxSurvival(model, covariates);
  const errors = column(expected.stdErrLogSurv, k) as number[];
  expect(curve.time).toEqual(expected.time);
  expect(curve.atRisk).toEqual(expected.nRisk);
  expectAllClose(curve.survival, column(expected.surv, k) as number[], 1e-9, 'survival');
  expectAllClose(curve.cumulativeHazard, column(expected.cumhaz, k) as number[], 1e-9, 'hazard');
  expectAllClose(
    curve.standardError,
    errors.map((error, i) => error * (expected.surv[i]?.[k] as number)),
    1e-9,
    'standard error',
  );
  for (const interval of ['plain', 'log', 'log-log'] as const) {
    const { lower, upper } = coxSurvival(model, covariates, { interval });
    const limits = expected.ci[interval];
    for (const [mine, theirs, side] of [
      [lower, column(limits.lower, k), 'lower'],
      [upper, column(limits.upper, k), 'upper'],
    ] as const) {
      const what = `${interval} ${side}`;
      // The reference gives no log-log limits where survival is 1; nor do we.
      expect({ what, missing: mine.map(limit => limit === undefined) }).toEqual({
        what,
        missing: theirs.map(limit => limit === null),
      });
      const given = theirs.map((limit, i) => [mine[i], limit] as const).filter(([, limit]) => limit !== null);
      expectAllClose(
        given.map(([limit]) => limit),
        given.map(([, limit]) => limit as number),
        1e-8,
        what,
      );
    }
  }
}

describe('coxBaselineHazard and coxSurvival against R survival 3.5-3', () => {
  it.each(['efron', 'breslow'] as const)('lung, %s', ties => {
    const reference = referenceValues('cox-predict-lung').values as Record<
      'efron' | 'breslow',
      { basehazZero: Baseline; basehazMeans?: Baseline; predicted: Predicted }
    >;
    const model = coxModel(data.lung(['age', 'sex', 'ph.ecog']), { ties });
    const expected = reference[ties];
    const zero = coxBaselineHazard(model);
    expect(zero.time).toEqual(expected.basehazZero.time);
    expectAllClose(zero.cumulativeHazard, expected.basehazZero.hazard);
    if (expected.basehazMeans !== undefined) {
      expectAllClose(
        coxBaselineHazard(model, { covariates: 'mean' }).cumulativeHazard,
        expected.basehazMeans.hazard,
      );
    }
    const { events, censored, atRisk } = zero;
    expect([atRisk, events, censored]).toEqual([
      expected.predicted.nRisk,
      expected.predicted.nEvent,
      expected.predicted.nCensor,
    ]);
    expectPredicted(model, { age: 60, sex: 1, 'ph.ecog': 1 }, 0, expected.predicted);
    expectPredicted(model, { age: 75, sex: 2, 'ph.ecog': 2 }, 1, expected.predicted);
  });

  it('lung at given times', () => {
    const reference = referenceValues('cox-predict-lung').values as {
      survAt365: {
        time: number[];
        surv: number[][];
        lower: number[][];
        upper: number[][];
        stdErr: number[][];
      };
    };
    const model = coxModel(data.lung(['age', 'sex', 'ph.ecog']));
    const { survAt365: expected } = reference;
    const curve = coxSurvival(
      model,
      { age: 60, sex: 1, 'ph.ecog': 1 },
      { times: expected.time, interval: 'log' },
    );
    expectAllClose(curve.survival, column(expected.surv, 0) as number[]);
    expectAllClose(curve.standardError, column(expected.stdErr, 0) as number[]);
    expectAllClose(curve.lower, column(expected.lower, 0) as number[]);
    expectAllClose(curve.upper, column(expected.upper, 0) as number[]);
  });

  it('veteran by cell type', () => {
    const reference = referenceValues('cox-predict-strata').values as {
      basehazZero: Baseline;
      predicted: Predicted;
    };
    const model = coxModel(data.veteran(['trt', 'karno'], true));
    const zero = coxBaselineHazard(model);
    const order = (stratum: readonly (string | number)[], times: readonly number[]) =>
      times
        .map((time, i) => ({ key: `${stratum[i]} ${String(time).padStart(5, '0')}`, i }))
        .sort((a, b) => (a.key < b.key ? -1 : 1));
    // The reference lists the strata in the order of its factor; ours ascend by label.
    const mine = order(zero.stratum ?? [], zero.time);
    const theirs = order(reference.basehazZero.strata ?? [], reference.basehazZero.time);
    expect(mine.length).toBe(theirs.length);
    expectAllClose(
      mine.map(({ i }) => zero.cumulativeHazard[i]),
      theirs.map(({ i }) => reference.basehazZero.hazard[i] as number),
    );
    const curve = coxSurvival(model, { trt: 1, karno: 60 });
    expectAllClose(
      mine.map(({ i }) => curve.survival[i]),
      theirs.map(({ i }) => reference.predicted.surv[i]?.[0] as number),
    );
    expectAllClose(
      mine.map(({ i }) => curve.standardError[i]),
      theirs.map(
        ({ i }) =>
          (reference.predicted.stdErrLogSurv[i]?.[0] as number) *
          (reference.predicted.surv[i]?.[0] as number),
      ),
    );
  });

  it('heart, late entry', () => {
    const reference = referenceValues('cox-predict-heart').values as {
      basehazZero: Baseline;
      predicted: Predicted;
    };
    const model = coxModel({ ...data.heart(), cluster: undefined });
    expectAllClose(coxBaselineHazard(model).cumulativeHazard, reference.basehazZero.hazard);
    expectPredicted(model, { age: 0, surgery: 0, transplant: 0 }, 0, reference.predicted);
    expectPredicted(model, { age: -5, surgery: 1, transplant: 1 }, 1, reference.predicted);
  });

  it('is 1 before the first time, counts who is at risk, and does not go past the last', () => {
    const model = coxModel({
      entry: [0, 0, 2, 4, 0],
      time: [3, 5, 6, 7, 5],
      event: [1, 1, 1, 0, 0],
      covariates: { x: [1, 0, 0, 1, 1] },
    });
    const curve = coxSurvival(model, { x: 0 }, { times: [1, 3, 3.5, 7, 8] });
    expect(curve.survival[0]).toBe(1);
    expect(curve.lower[0]).toBeUndefined();
    expect(curve.atRisk).toEqual([3, 4, 3, 1, 0]);
    expect(curve.survival[2]).toBe(curve.survival[1]);
    expect(curve.survival[4]).toBeUndefined();
    expect(coxBaselineHazard(model).lower[0]).toBeGreaterThan(0);
  });

  it('refuses covariates that are missing or not finite', () => {
    const model = coxModel(data.ovarian());
    expect(() => coxSurvival(model, { age: 50, rx: 1 })).toThrow(/covariates.resid.ds is missing/);
    expect(() => coxSurvival(model, { age: Infinity, rx: 1, 'resid.ds': 1 })).toThrow(
      /covariates.age is Infinity/,
    );
    expect(() => coxSurvival(model, { age: 50, rx: 1, 'resid.ds': 1 }, { times: [NaN] })).toThrow(
      /times\[0\]/,
    );
  });
});
