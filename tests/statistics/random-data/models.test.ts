import { describe, expect, it } from 'vitest';
import * as s from '../../../src/statistics/index.ts';
import { expectReference } from '../near.ts';
import { kinds, randomData, type Values } from './values.ts';

function expectList(
  actual: readonly (number | undefined)[],
  expected: readonly unknown[],
  tolerance = 1e-9,
): void {
  expect(actual.length).toBe(expected.length);
  // Residuals that are 0 but for rounding on either side have no relative error worth the name.
  for (const [k, value] of expected.entries()) {
    if (typeof value === 'number' && Math.abs(value) < 1e-6) {
      expect(Math.abs((actual[k] ?? 1) - value)).toBeLessThan(1e-12);
    } else expectReference(actual[k], value, tolerance, `entry ${k}`);
  }
}

function expectCox(model: s.CoxModel, r: Values): void {
  const { terms } = model;
  expectList(
    terms.map(t => t.coefficient),
    r.list('coefficient'),
  );
  expectList(
    terms.map(t => t.standardError),
    r.list('standardError'),
  );
  if (r.has('robustStandardError')) {
    expectList(
      terms.map(t => t.robustStandardError),
      r.list('robustStandardError'),
    );
    expectReference(model.robustScoreTest?.statistic, r.number('robustScore'));
  }
  expectList((model.covariance ?? []).flat(), r.rows('covariance').flat());
  expectList([model.logLikelihood.initial, model.logLikelihood.final], r.list('logLikelihood'));
  // R prints the likelihood-ratio statistic from likelihoods that share most of their digits.
  expectReference(model.likelihoodRatioTest.statistic, r.number('likelihoodRatio'), 1e-8);
  expectReference(model.waldTest?.statistic, r.number('wald'), 1e-8);
  expectReference(model.scoreTest.statistic, r.number('score'));
  expectReference(model.concordance.estimate, r.number('concordance'));
  expectReference(model.concordance.standardError, r.number('concordanceError'));
}

describe.each(kinds)('models on random data (%s), against R', kind => {
  const { data, results } = randomData(kind);
  const { time, event, entry, x, w, strata, cluster, share } = data;
  const covariates = { x, w };

  it.each([
    ['efron', { time, event, covariates }, 'efron'],
    ['breslow', { time, event, covariates }, 'breslow'],
    ['strata', { time, event, strata, covariates }, 'efron'],
    // Fractional weights: robust errors unasked, on either side, the same as with each row a cluster.
    ['weights', { time, event, weight: share, covariates }, 'efron'],
    ['weights', { time, event, weight: share, covariates, cluster: time.map((_, i) => i) }, 'efron'],
    ['clustered', { time, event, cluster, covariates }, 'efron'],
    ['everything', { time, event, entry, weight: share, strata, cluster, covariates }, 'efron'],
    ['everythingBreslow', { time, event, entry, weight: share, strata, cluster, covariates }, 'breslow'],
  ] as const)('Cox: %s', (name, input, ties) => {
    expectCox(s.coxModel(input, { ties }), results.at('cox').at(name));
  });

  it('proportional hazards, baseline, prediction, residuals', () => {
    const r = results.at('cox');
    const model = s.coxModel({ time, event, covariates });
    for (const transform of ['kaplan-meier', 'identity', 'rank', 'log'] as const) {
      const test = s.proportionalHazardsTest(model, { transform });
      expectList(
        [...test.terms.map(t => t.statistic), test.global.statistic],
        r.at('zph').at(transform).list('statistic'),
        1e-8,
      );
    }
    expectList(s.coxBaselineHazard(model).cumulativeHazard, r.at('baseline').list('cumulativeHazard'));
    const predicted = s.coxSurvival(model, { x: 0.7, w: 1 });
    for (const name of ['time', 'survival', 'standardError', 'lower', 'upper'] as const) {
      expectList(predicted[name], r.at('predicted').list(name));
    }
    for (const name of ['martingale', 'deviance'] as const)
      expectList(s.coxResiduals(model, name), r.list(name), 1e-8);
    for (const name of ['score', 'dfbeta', 'schoenfeld'] as const) {
      expectList(s.coxResiduals(model, name).flat(), r.rows(name).flat(), 1e-8);
    }
  });

  it.each(['exponential', 'weibull', 'log-normal', 'log-logistic'] as const)(
    'accelerated failure: %s',
    distribution => {
      const r = results.at('failure');
      const upper = r
        .list('upper')
        .map(value => (value === 'Inf' ? Number.POSITIVE_INFINITY : Number(value)));
      const fits = [
        [
          s.acceleratedFailureModel({ time, event }, covariates, { distribution }),
          r.at('right').at(distribution),
        ],
        [
          s.acceleratedFailureModel({ lower: r.list('lower').map(Number), upper }, covariates, {
            distribution,
          }),
          r.at('interval').at(distribution),
        ],
      ] as const;
      for (const [model, values] of fits) {
        expectList(
          model.terms.map(t => t.coefficient),
          values.list('coefficient'),
          1e-8,
        );
        expectList(
          model.terms.map(t => t.standardError),
          values.list('standardError'),
          1e-8,
        );
        expectReference(model.scale, values.number('scale'), 1e-8);
        expectReference(model.logLikelihood, values.number('logLikelihood'));
      }
    },
  );

  it.each(['hc0', 'hc1', 'hc2', 'hc3'] as const)(
    'linear, logistic, Poisson models with %s errors',
    robust => {
      const r = results.at('models');
      const models = [
        [s.linearModel({ outcome: r.list('y').map(Number), covariates }, { robust }), r.at('linear')],
        [s.logisticModel({ outcome: event, covariates }, { robust }), r.at('logistic')],
        [
          s.poissonModel(
            { outcome: r.list('k').map(Number), covariates, offset: share.map(Math.log) },
            { robust },
          ),
          r.at('poisson'),
        ],
      ] as const;
      for (const [model, values] of models) {
        expectList(
          model.terms.map(t => t.coefficient),
          values.list('coefficient'),
        );
        expectList(
          model.terms.map(t => t.standardError),
          values.list('standardError'),
        );
        expectReference(model.logLikelihood, values.number('logLikelihood'));
        expectList(
          model.terms.map(t => t.robustStandardError),
          values.at('hc').list(robust),
        );
      }
    },
  );

  it('linear model clustered', () => {
    const r = results.at('models');
    const model = s.linearModel({ outcome: r.list('y').map(Number), covariates, cluster });
    expectList(
      model.terms.map(t => t.robustStandardError),
      r.list('clusteredLinear'),
    );
  });

  it('ranks, tables, proportions, rates', () => {
    const r = results.at('ranks');
    const arm = (value: number): number[] => time.filter((_, i) => w[i] === value);
    const rankSum = s.wilcoxonRankSum(arm(0), arm(1), { method: 'normal', continuity: true });
    expectReference(rankSum.statistic, r.at('wilcoxon').number('statistic'));
    expectReference(rankSum.pValue, r.at('wilcoxon').number('pValue'));
    expectReference(
      s.kruskalWallis({ value: time, group: data.group }).statistic,
      r.at('kruskal').number('statistic'),
    );
    const spearman = s.spearman(x, time, { method: 't' });
    expectReference(spearman.estimate, r.at('spearman').number('estimate'));
    expectReference(spearman.pValue, r.at('spearman').number('pValue'));
    const kendall = s.kendall(x, time, { method: 'normal' });
    expectReference(kendall.estimate, r.at('kendall').number('estimate'));
    expectReference(kendall.pValue, r.at('kendall').number('pValue'));
    const table = r.rows('table').map(row => row.map(Number));
    const four = r.rows('four').map(row => row.map(Number));
    expectReference(s.chiSquareTest(table).statistic, r.number('chiSquare'));
    expectReference(s.fisherExact(table).pValue, r.number('fisherTable'));
    expectReference(s.fisherExact(four).pValue, r.at('fisher').number('pValue'));
    expectReference(s.mcnemar(four, { continuity: false }).statistic, r.number('mcnemar'));
    const tables = (r.rows('strata') as unknown as number[][][]).map(rows =>
      rows.map(row => row.map(Number)),
    );
    const pooled = s.mantelHaenszel(tables);
    for (const name of ['statistic', 'estimate', 'lower', 'upper'] as const) {
      expectReference(pooled[name], r.at('mantelHaenszel').number(name), 1e-9, name);
    }
    const trend = s.trendInProportions(r.list('trendSuccesses').map(Number), r.list('trendN').map(Number));
    expectReference(trend.statistic, r.number('trend'));
    const [events, exposure, n] = [r.number('events'), r.number('exposure'), time.length];
    // R's exact limits come from its own quantile functions, good to about 1e-9.
    const intervals = [
      [s.poissonRateInterval(events, exposure), 'rate'],
      [s.wilsonInterval(events, n), 'wilson'],
      [s.clopperPearsonInterval(events, n), 'clopperPearson'],
    ] as const;
    for (const [interval, name] of intervals)
      expectList([interval.lower, interval.upper], r.list(name), 1e-8);
    const [a, b] = four as [[number, number], [number, number]];
    const difference = s.newcombeDifference(a[1], a[0] + a[1], b[1], b[0] + b[1]);
    expectList([difference.lower, difference.upper], r.list('newcombe'));
  });
});
