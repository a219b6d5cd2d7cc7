import { describe, expect, it } from 'vitest';
import { referenceValues } from '../../../reference/load.ts';
import { coxModel } from '../../../../src/statistics/regression/cox/cox-model.ts';
import { coxResiduals, schoenfeldTimes } from '../../../../src/statistics/regression/cox/residuals.ts';
import type { CoxModel } from '../../../../src/statistics/regression/cox/types.ts';
import { expectAllClose, expectClose, expectRowsClose } from '../close.ts';
import * as data from './datasets.ts';

interface Residuals {
  readonly martingale: number[];
  readonly deviance?: number[];
  readonly score: number[][];
  readonly dfbeta: number[][];
  readonly schoenfeld?: number[][];
  readonly scaledsch?: number[][];
  readonly schoenfeldTimes: number[];
}

/** Residuals are differences of numbers of order one: 1e-9 relative, and 1e-11 absolute near 0. */
function expectNear(actual: number[][] | number[], expected: number[][] | number[], what: string): void {
  const a = actual.flat();
  const b = expected.flat();
  expect(a).toHaveLength(b.length);
  const off = b.filter((value, i) => {
    const difference = Math.abs((a[i] as number) - value);
    return !(difference <= 1e-9 * Math.abs(value) + 1e-11);
  });
  expect({ what, off }).toEqual({ what, off: [] });
}

function expectResiduals(model: CoxModel, expected: Residuals): void {
  expectNear(coxResiduals(model, 'martingale'), expected.martingale, 'martingale');
  expectNear(coxResiduals(model, 'score'), expected.score, 'score');
  expectNear(coxResiduals(model, 'dfbeta'), expected.dfbeta, 'dfbeta');
  if (expected.deviance !== undefined)
    expectNear(coxResiduals(model, 'deviance'), expected.deviance, 'deviance');
  if (expected.schoenfeld !== undefined)
    expectNear(coxResiduals(model, 'schoenfeld'), expected.schoenfeld, 'schoenfeld');
  if (expected.scaledsch !== undefined) {
    expectNear(coxResiduals(model, 'scaled-schoenfeld'), expected.scaledsch, 'scaled');
  }
}

describe('coxResiduals against R survival 3.5-3', () => {
  it('ovarian, no ties', () => {
    const { residuals } = referenceValues('cox-residuals-ovarian').values as { residuals: Residuals };
    const model = coxModel(data.ovarian());
    expectResiduals(model, residuals);
    expect(schoenfeldTimes(model).map(({ time }) => time)).toEqual(residuals.schoenfeldTimes);
  });

  it.each(['efron', 'breslow'] as const)('veteran, tied, %s', ties => {
    const reference = referenceValues('cox-residuals-veteran').values as Record<string, Residuals>;
    const model = coxModel(data.veteran(['trt', 'karno', 'age']), { ties });
    expectResiduals(model, reference[ties] as Residuals);
    expect(schoenfeldTimes(model).map(({ time }) => time)).toEqual(reference[ties]?.schoenfeldTimes);
  });

  it('heart, late entry, and summed by patient', () => {
    const reference = referenceValues('cox-residuals-heart').values as {
      residuals: Residuals;
      dfbetaById: number[][];
      martingaleById: number[];
    };
    const model = coxModel(data.heart());
    expectResiduals(model, reference.residuals);
    expectNear(coxResiduals(model, 'dfbeta', { by: 'cluster' }), reference.dfbetaById, 'dfbeta by patient');
    expectNear(
      coxResiduals(model, 'martingale', { by: 'cluster' }),
      reference.martingaleById,
      'martingale by patient',
    );
  });

  it('bladder, strata: the cross product of dfbeta by patient is the robust covariance', () => {
    const reference = referenceValues('cox-residuals-bladder').values as {
      residuals: Residuals;
      robustVar: number[][];
    };
    const model = coxModel(data.bladder2({ strata: true }));
    expectResiduals(model, reference.residuals);
    const sums = coxResiduals(model, 'dfbeta', { by: 'cluster' });
    const product = [0, 1, 2].map(i =>
      [0, 1, 2].map(j => sums.reduce((sum, row) => sum + (row[i] as number) * (row[j] as number), 0)),
    );
    expectRowsClose(product, reference.robustVar);
    expectRowsClose(model.covariance, reference.robustVar);
  });

  it('with weights: weighted score residuals add up to 0, dfbeta carries the weight', () => {
    const columns = data.lungWeights('wfrac', true);
    const model = coxModel(columns);
    const weight = Array.from(columns.weight ?? []);
    const score = coxResiduals(model, 'score');
    for (const j of [0, 1]) {
      const sum = score.reduce((total, row, i) => total + (weight[i] as number) * (row[j] as number), 0);
      expect(Math.abs(sum)).toBeLessThan(1e-8);
    }
    const martingale = coxResiduals(model, 'martingale');
    expect(Math.abs(martingale.reduce((sum, m, i) => sum + m * (weight[i] as number), 0))).toBeLessThan(1e-9);
    const dfbeta = coxResiduals(model, 'dfbeta');
    const covariance = model.naiveCovariance ?? [];
    for (const i of [0, 17, 200]) {
      const change = covariance.map(
        row => row.reduce((sum, v, k) => sum + v * (score[i]?.[k] as number), 0) * (weight[i] as number),
      );
      expectAllClose(dfbeta[i] ?? [], change, 1e-9);
    }
  });

  it('refuses sums by cluster without clusters, and of kinds that have none', () => {
    const model = coxModel(data.ovarian());
    expect(() => coxResiduals(model, 'score', { by: 'cluster' })).toThrow(/without clusters/);
    expect(() => coxResiduals(model, 'schoenfeld', { by: 'cluster' })).toThrow(/no sum by cluster/);
    // @ts-expect-error: a kind that does not exist
    expect(() => coxResiduals(model, 'pearson')).toThrow(/pearson/);
  });

  it('gives a row that exits before the first event no expected events', () => {
    const model = coxModel({
      time: [1, 3, 2, 5, 4],
      event: [0, 1, 1, 1, 0],
      covariates: { x: [1, 0, 1, 1, 0] },
    });
    expectClose(coxResiduals(model, 'martingale')[0], 0, 1e-12);
    expect(coxResiduals(model, 'deviance')[0]).toBe(0);
  });
});
