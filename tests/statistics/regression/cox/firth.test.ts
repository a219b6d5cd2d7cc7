import { describe, expect, it } from 'vitest';
import { referenceValues } from '../../../reference/load.ts';
import { coxModel } from '../../../../src/statistics/regression/cox/cox-model.ts';
import type { CoxData, CoxModel } from '../../../../src/statistics/regression/cox/types.ts';
import { expectAllClose, expectClose } from '../close.ts';
import * as data from './datasets.ts';

interface Penalised {
  readonly coef: number[];
  readonly se: number[];
  readonly penalisedLoglik: number;
  readonly penalisedLoglikNull: number;
}

interface Separated {
  readonly data: { time: number[]; event: number[]; x: number[]; age: number[] };
  readonly efron: Penalised;
  readonly breslow: Penalised;
}

/** The reference maximises with numerical gradients, good to about 1e-8 in the coefficients. */
function expectPenalised(model: CoxModel, expected: Penalised): void {
  expect(model.converged).toBe(true);
  expectAllClose(
    model.terms.map(term => term.coefficient),
    expected.coef,
    1e-7,
    'coefficient',
  );
  expectAllClose(
    model.terms.map(term => term.standardError),
    expected.se,
    1e-7,
    'standard error',
  );
  expectClose(model.logLikelihood.initial, expected.penalisedLoglikNull, 1e-11);
  expectClose(model.logLikelihood.final, expected.penalisedLoglik, 1e-11);
}

describe("Firth's penalty", () => {
  const values = referenceValues('cox-firth').values as {
    separated: Separated;
    ovarian: Penalised;
    heart: Penalised;
  };
  const { time, event, x, age } = values.separated.data;
  const separated: CoxData = { time, event, covariates: { x, age } };

  it('maximises the penalised likelihood, tied and separated', () => {
    expectPenalised(coxModel(separated, { penalty: 'firth' }), values.separated.efron);
    expectPenalised(coxModel(separated, { penalty: 'firth', ties: 'breslow' }), values.separated.breslow);
  });

  it('and with more covariates and late entry', () => {
    expectPenalised(coxModel(data.ovarian(), { penalty: 'firth' }), values.ovarian);
    expectPenalised(coxModel({ ...data.heart(), cluster: undefined }, { penalty: 'firth' }), values.heart);
  });

  it('one event among two exposed and three not, by hand', () => {
    // With p the share of the exposed in the risk set, (1 - p) + (1 - 2p)/2 = 0: p = 3/4, r = 3p/(2(1 - p)).
    const one: CoxData = {
      time: [1, 2, 2, 2, 2],
      event: [1, 0, 0, 0, 0],
      covariates: { x: [1, 1, 0, 0, 0] },
    };
    const model = coxModel(one, { penalty: 'firth' });
    expectClose(model.terms[0]?.hazardRatio, 4.5, 1e-10);
    expectClose(model.terms[0]?.standardError, 1 / Math.sqrt(3 / 16), 1e-10);
    expect(coxModel(one).converged).toBe(false);
  });

  it('does not depend on the units of the covariates', () => {
    const { covariates } = separated;
    const scaled: CoxData = {
      ...separated,
      covariates: { x: covariates['x'] as number[], age: age.map(a => 40 + a / 7) },
    };
    const a = coxModel(separated, { penalty: 'firth' });
    const b = coxModel(scaled, { penalty: 'firth' });
    expectClose(b.terms[1]?.coefficient, 7 * (a.terms[1]?.coefficient as number), 1e-8);
    expectClose(b.likelihoodRatioTest.statistic, a.likelihoodRatioTest.statistic, 1e-9);
  });
});
