import { describe, expect, it } from 'vitest';
import { referenceValues } from '../../../reference/load.ts';
import { coxBaselineHazard } from '../../../../src/statistics/regression/cox/baseline-hazard.ts';
import { coxModel } from '../../../../src/statistics/regression/cox/cox-model.ts';
import { proportionalHazardsTest } from '../../../../src/statistics/regression/cox/proportional-hazards.ts';
import { coxResiduals } from '../../../../src/statistics/regression/cox/residuals.ts';
import { coxSurvival } from '../../../../src/statistics/regression/cox/survival-curve.ts';
import { expectAllClose, expectClose } from '../close.ts';

interface Columns {
  readonly id: number[];
  readonly entry: number[];
  readonly time: number[];
  readonly event: number[];
  readonly x: number[];
  readonly g: number[];
  readonly y: number[];
  readonly stratum: string[];
  readonly weight: number[];
  readonly offset: number[];
}

interface Mixed {
  readonly coef: number[];
  readonly se: number[];
  readonly robustSe: number[];
  readonly loglik: number[];
  readonly scoreTest: number;
  readonly wald: number;
  readonly concordance: number;
  readonly concordanceSe: number;
  readonly martingale: number[];
  readonly deviance: number[];
  readonly score: number[][];
  readonly dfbeta: number[][];
  readonly schoenfeld: number[][];
  readonly zph: Record<'kaplan-meier' | 'identity' | 'rank', number[]>;
  readonly noOffset: {
    readonly robustScore: number;
    readonly time: number[];
    readonly survival: number[];
    readonly stdErrCumhaz: number[];
    readonly lower: (number | null)[];
    readonly upper: (number | null)[];
    readonly baseline: number[];
  };
}

/** Moves values near 0 away from it, so that agreement is absolute there. */
const away = (values: readonly (number | readonly number[])[]): number[] =>
  values.flat().map(value => value + 100);

describe('late entry, ties, strata, weights, clusters and an offset at once, against R survival 3.5-3', () => {
  const reference = referenceValues('cox-mixed').values as { data: Columns; efron: Mixed; breslow: Mixed };
  const { data } = reference;
  const columns = {
    entry: data.entry,
    time: data.time,
    event: data.event,
    weight: data.weight,
    strata: data.stratum,
    cluster: data.id,
    covariates: { x: data.x, g: data.g, y: data.y },
  };

  it.each(['efron', 'breslow'] as const)('%s: fit and residuals', ties => {
    const expected = reference[ties];
    const model = coxModel({ ...columns, offset: data.offset }, { ties });
    expectAllClose(
      model.terms.map(term => term.coefficient),
      expected.coef,
    );
    expectAllClose(
      model.terms.map(term => term.standardError),
      expected.se,
    );
    expectAllClose(
      model.terms.map(term => term.robustStandardError),
      expected.robustSe,
    );
    expectAllClose([model.logLikelihood.initial, model.logLikelihood.final], expected.loglik, 1e-12);
    expectClose(model.scoreTest.statistic, expected.scoreTest);
    expectClose(model.waldTest?.statistic, expected.wald);
    expectClose(model.concordance.estimate, expected.concordance);
    expectClose(model.concordance.standardError, expected.concordanceSe);
    expectAllClose(away(coxResiduals(model, 'martingale')), away(expected.martingale), 1e-12, 'martingale');
    expectAllClose(away(coxResiduals(model, 'deviance')), away(expected.deviance), 1e-12, 'deviance');
    expectAllClose(away(coxResiduals(model, 'score')), away(expected.score), 1e-11, 'score');
    expectAllClose(away(coxResiduals(model, 'dfbeta')), away(expected.dfbeta), 1e-12, 'dfbeta');
    expectAllClose(away(coxResiduals(model, 'schoenfeld')), away(expected.schoenfeld), 1e-11, 'schoenfeld');
    for (const transform of ['kaplan-meier', 'identity', 'rank'] as const) {
      const { terms, global } = proportionalHazardsTest(model, { transform });
      expectAllClose(
        [...terms, global].map(test => test.statistic),
        expected.zph[transform],
        1e-8,
        transform,
      );
    }
  });

  it.each(['efron', 'breslow'] as const)('%s: robust score test and predicted curves', ties => {
    const expected = reference[ties].noOffset;
    const model = coxModel(columns, { ties });
    expectClose(model.robustScoreTest?.statistic, expected.robustScore);
    expectAllClose(coxBaselineHazard(model).cumulativeHazard, expected.baseline);
    const curve = coxSurvival(model, { x: 0.5, g: 1, y: 40 });
    expect(curve.time).toEqual(expected.time);
    expectAllClose(curve.survival, expected.survival);
    expectAllClose(
      curve.standardError,
      expected.stdErrCumhaz.map((error, i) => error * (expected.survival[i] as number)),
    );
    const known = (limits: readonly (number | null | undefined)[]) =>
      limits.filter(limit => typeof limit === 'number');
    expectAllClose(known(curve.lower), known(expected.lower), 1e-9);
    expectAllClose(known(curve.upper), known(expected.upper), 1e-9);
  });
});
