import { describe, expect, it } from 'vitest';
import * as s from '../../../src/statistics/index.ts';
import { expectReference } from '../near.ts';
import { kinds, randomData, type Values } from './values.ts';

/** Entry by entry; where R has no number, undefined is expected. */
function expectList(
  actual: ArrayLike<number | undefined>,
  values: Values,
  name: string,
  tolerance = 1e-9,
): void {
  const expected = values.list(name);
  expect(actual.length).toBe(expected.length);
  // A sum that R gives as 0 but for rounding has no relative error.
  for (const [k, value] of expected.entries()) {
    if (typeof value === 'number' && Math.abs(value) < 1e-13)
      expect(Math.abs(actual[k] ?? 1)).toBeLessThan(1e-12);
    else expectReference(actual[k], value, tolerance, `${name} ${k}`);
  }
}

function expectCurve(curve: s.SurvivalCurve, values: Values): void {
  for (const name of ['time', 'atRisk', 'events', 'survival'] as const) expectList(curve[name], values, name);
  const [lower, upper] = [values.list('lower'), values.list('upper')];
  const errors = values.list('standardError');
  for (let k = 0; k < curve.time.length; k++) {
    // At survival 0 R gives no error; at 1 its limits are 1 for some scales.
    expectReference(curve.standardError[k], errors[k], 1e-9, `standard error ${k}`);
    expectReference(curve.lower[k], lower[k], 1e-9, `lower ${k}`);
    expectReference(curve.upper[k], upper[k], 1e-9, `upper ${k}`);
  }
}

describe.each(kinds)('survival on random data (%s), against R survival 3.5-3', kind => {
  const { data, results } = randomData(kind);
  const { time, event, entry, group, strata, cluster, weight, share } = data;
  const r = results.at('survival');

  it.each(['log-log', 'log', 'plain', 'logit', 'arcsine'] as const)(
    'Kaplan-Meier with %s limits',
    interval => {
      expectCurve(s.kaplanMeier({ time, event }, { interval }), r.at('km').at(interval));
    },
  );

  it('Kaplan-Meier with late entry at 90 %', () => {
    expectCurve(s.kaplanMeier({ time, event, entry }, { level: 0.9 }), r.at('late'));
  });

  it('Kaplan-Meier with whole weights is that of repeated rows', () => {
    expectCurve(s.kaplanMeier({ time, event, weight }), r.at('frequency'));
  });

  it('Kaplan-Meier with fractional weights and clusters', () => {
    const curve = s.kaplanMeier({ time, event, weight: share, cluster }, { interval: 'plain' });
    expectList(curve.survival, r.at('robust'), 'survival');
    expectList(curve.standardError, r.at('robust'), 'standardError');
  });

  it('Nelson-Aalen', () => {
    const hazard = s.nelsonAalen({ time, event }, { variance: 'poisson' });
    expectList(hazard.cumulativeHazard, r.at('nelsonAalen'), 'cumulativeHazard');
    expectList(hazard.standardError, r.at('nelsonAalen'), 'standardError');
  });

  it('restricted mean and quantiles', () => {
    const curve = s.kaplanMeier({ time, event });
    const mean = s.restrictedMean(curve, 9);
    expectReference(mean.estimate, r.at('restrictedMean').number('estimate'));
    expectReference(mean.standardError, r.at('restrictedMean').number('standardError'));
    const quantiles = [0.25, 0.5].map(p => s.survivalQuantile(curve, p));
    for (const name of ['estimate', 'lower', 'upper'] as const) {
      expectList(
        quantiles.map(q => q[name]),
        r.at('quantiles'),
        name,
      );
    }
  });

  it('log-rank, Peto weights, strata', () => {
    const tests = [
      [s.logRankTest({ time, event, group }), r.at('logRank')],
      [s.logRankTest({ time, event, group }, { rho: 1 }), r.at('peto')],
      [s.logRankTest({ time, event, group, strata }), r.at('stratified')],
    ] as const;
    for (const [test, values] of tests) {
      expectReference(test.statistic, values.number('statistic'));
      expectList(
        test.groups.map(g => g.observed),
        values,
        'observed',
      );
      expectList(
        test.groups.map(g => g.expected),
        values,
        'expected',
      );
    }
  });

  it('incidence, Gray, Fine-Gray', () => {
    const c = results.at('competing');
    const { cause, x, w } = data;
    const [first, second] = s.cumulativeIncidence({ time, cause }).causes;
    expectList(first?.incidence ?? [], c, 'first');
    expectList(second?.incidence ?? [], c, 'second');
    expectList(first?.standardError ?? [], c, 'firstError');
    expectList(second?.standardError ?? [], c, 'secondError');
    expectList(
      s.cumulativeIncidence({ time, cause, cluster }).causes[0]?.standardError ?? [],
      c,
      'clusteredError',
    );
    const gray = [1, 2].map(k => s.grayTest({ time, cause, group }, { cause: k }).statistic);
    expectList(gray, c, 'gray');
    expectList(
      [1, 2].map(k => s.grayTest({ time, cause, group, strata }, { cause: k }).statistic),
      c,
      'grayStratified',
    );
    expectList(
      [1, 2].map(k => s.grayTest({ time, cause, group }, { cause: k, rho: 1 }).statistic),
      c,
      'grayRho',
    );
    const model = s.subdistributionHazardModel({ time, cause, covariates: { x, w } }, { cause: 1 });
    // cmprsk stops its Newton steps early.
    expectList(
      model.terms.map(t => t.coefficient),
      c.at('fineGray'),
      'coefficient',
      1e-7,
    );
    expectList(
      model.terms.map(t => t.robustStandardError ?? t.standardError),
      c.at('fineGray'),
      'standardError',
      1e-6,
    );
  });
});
