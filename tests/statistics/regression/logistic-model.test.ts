import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { StatisticsError } from '../../../src/statistics/errors.ts';
import { logisticModel } from '../../../src/statistics/regression/logistic-model.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { expectClose, frozen, indicator } from '../relative.ts';

// Reference: R 4.2.2 glm with epsilon 1e-14, sandwich 3.0-2 (tests/reference/scripts/make-reference.R).
interface ReferenceFit {
  readonly coef: number[];
  readonly se: number[];
  readonly z: number[];
  readonly p: number[];
  readonly deviance: number;
  readonly nullDeviance: number;
  readonly dfResidual: number;
  readonly loglik: number;
  readonly vcov: number[][];
  readonly waldCi95: number[][];
}
interface Robust {
  readonly se: number[];
  readonly vcov: number[][];
}
const reference = referenceValues('glm-logistic-infert').values as {
  full: ReferenceFit;
  small: ReferenceFit;
  hcSmall: Record<'HC0' | 'HC1' | 'HC3', Robust>;
  clusterStratumSmall: { HC0: Robust; HC1: Robust };
  fitted5: number[];
  lrtVsNull: number;
};
const rows = dataset('infert');
const small = frozen({
  outcome: numbers(rows, 'case'),
  covariates: { spontaneous: numbers(rows, 'spontaneous'), induced: numbers(rows, 'induced') },
});

function expectFit(model: ReturnType<typeof logisticModel>, expected: ReferenceFit): void {
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
  expectClose(
    model.terms.map(t => t.pValue),
    expected.p,
    // The reference takes its errors from the weights one iteration before the last, up to 8e-10 from those at the
    // maximum; in a tail that grows by z squared. Started from its own estimates it agrees to 1e-12.
    1e-7,
  );
  expectClose(model.covariance, expected.vcov, 3e-9); // as above, twice over
  expectClose(model.deviance, expected.deviance);
  expectClose(model.nullDeviance, expected.nullDeviance);
  expectClose(model.logLikelihood, expected.loglik);
  expect(model.residualDegreesOfFreedom).toBe(expected.dfResidual);
  expectClose(
    model.terms.map(t => [t.coefficientLower, t.coefficientUpper]),
    expected.waldCi95,
    1e-8, // as above, divided by limits near 0
  );
  expectClose(
    model.terms.map(t => [t.oddsRatio, t.lower, t.upper]),
    expected.waldCi95.map((limits, j) => [expected.coef[j] ?? 0, ...limits].map(Math.exp)),
    1e-8,
  );
}

describe('logisticModel against reference fits', () => {
  it('infertility, two covariates', () => {
    const model = logisticModel(small);
    expectFit(model, reference.small);
    expectClose(model.fitted.slice(0, 5), reference.fitted5);
    expectClose(model.likelihoodRatioTest?.statistic, reference.lrtVsNull);
    expect(model.terms[0]?.name).toBe('intercept');
  });

  it('infertility, six covariates', () => {
    const model = logisticModel({
      outcome: numbers(rows, 'case'),
      covariates: {
        age: numbers(rows, 'age'),
        parity: numbers(rows, 'parity'),
        middle: indicator(rows, 'education', '6-11yrs'),
        high: indicator(rows, 'education', '12+ yrs'),
        ...small.covariates,
      },
    });
    expectFit(model, reference.full);
  });

  for (const kind of ['HC0', 'HC1', 'HC3'] as const) {
    it(`robust errors ${kind}`, () => {
      const robust = kind.toLowerCase() as 'hc0' | 'hc1' | 'hc3';
      const model = logisticModel(small, { robust });
      expectClose(model.covariance, reference.hcSmall[kind].vcov);
      expectClose(
        model.terms.map(t => t.robustStandardError),
        reference.hcSmall[kind].se,
      );
    });
  }

  it('errors clustered by matched set', () => {
    const clustered = { ...small, cluster: numbers(rows, 'stratum') };
    expectClose(logisticModel(clustered).covariance, reference.clusterStratumSmall.HC0.vcov);
    expectClose(
      logisticModel(clustered, { robust: 'hc1' }).covariance,
      reference.clusterStratumSmall.HC1.vcov,
    );
  });

  it('grouped outcomes: oesophageal cancer by age, alcohol and tobacco', () => {
    const grouped = dataset('esoph');
    const expected = (referenceValues('glm-count').values as { esophBinomial: ReferenceFit }).esophBinomial;
    const cases = numbers(grouped, 'ncases');
    const total = numbers(grouped, 'ncontrols').map((controls, i) => controls + (cases[i] ?? 0));
    const kept = total.flatMap((trials, i) => (trials > 0 ? [i] : []));
    const pick = (column: readonly number[]): number[] => kept.map(i => column[i] ?? 0);
    const levels: Record<string, string[]> = {
      agegp: ['35-44', '45-54', '55-64', '65-74', '75+'],
      alcgp: ['40-79', '80-119', '120+'],
      tobgp: ['10-19', '20-29', '30+'],
    };
    const covariates: Record<string, number[]> = {};
    for (const [field, names] of Object.entries(levels)) {
      for (const level of names) covariates[`${field} ${level}`] = pick(indicator(grouped, field, level));
    }
    const model = logisticModel({
      outcome: pick(cases.map((count, i) => count / Math.max(1, total[i] ?? 1))),
      weight: pick(total),
      covariates,
    });
    expectClose(
      model.terms.map(t => t.coefficient),
      expected.coef,
    );
    expectClose(
      model.terms.map(t => t.standardError),
      expected.se,
    );
    expectClose(model.deviance, expected.deviance);
    expectClose(model.logLikelihood, expected.loglik);
  });
});

describe('separation', () => {
  const perfect = frozen({
    outcome: [1, 0, 0, 1, 1, 0],
    covariates: { rigid: [1, 0, 0, 1, 1, 0], age: [3, 1, 4, 1, 5, 2] },
  });

  it('complete separation is a named result without estimates', () => {
    const model = logisticModel(perfect);
    expect(model.converged).toBe(false);
    expect(model.terms.every(term => term.coefficient === undefined && term.oddsRatio === undefined)).toBe(
      true,
    );
    expect(model.separation?.some(term => term.name === 'rigid' && term.direction === 'up')).toBe(true);
    expect(model.warnings[0]).toMatchObject({ code: 'separation' });
    expect(model.warnings[0]?.covariates).toContain('rigid');
    expect(model.terms.find(term => term.name === 'rigid')?.estimate).toBe('infinite');
  });

  it('quasi-complete separation names only the covariate to blame', () => {
    const model = logisticModel({
      outcome: [0, 0, 0, 1, 0, 1, 1, 0, 1, 0],
      covariates: { sore: [0, 0, 0, 0, 0, 1, 1, 0, 1, 0], age: [5, 2, 4, 3, 2, 4, 1, 6, 2, 3] },
    });
    expect(model.converged).toBe(false);
    expect(model.separation?.map(term => term.name)).toContain('sore');
    expect(model.separation?.map(term => term.name)).not.toContain('age');
  });

  it('a strong but not separating covariate converges', () => {
    const x = Array.from({ length: 200 }, (_, i) => i / 10);
    const outcome = x.map((value, i) => (i === 97 ? 1 : i === 102 ? 0 : value > 10 ? 1 : 0));
    const model = logisticModel({ outcome, covariates: { x } });
    expect(model.converged).toBe(true);
    // At the maximum the scores vanish: fitted and observed totals agree, also weighted by x.
    const excess = model.fitted.map((p, i) => p - (outcome[i] ?? 0));
    expect(Math.abs(excess.reduce((sum, value) => sum + value, 0))).toBeLessThan(1e-10);
    expect(Math.abs(excess.reduce((sum, value, i) => sum + value * (x[i] ?? 0), 0))).toBeLessThan(1e-9);
  });

  it("Firth's penalty on a two-by-two table adds a half to each cell", () => {
    // Closed form: the penalised estimate of a saturated table is that of the table with 1/2 added (Firth 1993).
    const model = logisticModel(
      {
        outcome: [0, 0, 0, 0, 0, 1, 1, 1],
        covariates: { crease: [0, 0, 0, 0, 0, 1, 1, 1] },
      },
      { penalty: 'firth' },
    );
    expect(model.converged).toBe(true);
    expect(model.likelihoodRatioTest).toBeUndefined();
    expectClose(
      model.terms.map(t => t.coefficient),
      [Math.log(0.5 / 5.5), Math.log(3.5 / 0.5) - Math.log(0.5 / 5.5)],
    );
    // The covariance is the inverse information at those odds, with the counts as observed.
    const information = (n: number, p: number): number => n * p * (1 - p);
    const variance = 1 / information(5, 0.5 / 6) + 1 / information(3, 3.5 / 4);
    expectClose(model.terms[1]?.standardError, Math.sqrt(variance));
  });

  it("Firth's penalty converges where one row has all the leverage, whatever the unit", () => {
    // The far row fits itself: its modified score 1.5 - 2 p vanishes at log odds of log 3. The unpenalised
    // information would overshoot it by half for ever.
    for (const unit of [1, 1e-3, 1e3]) {
      const x = [0, 1, 0, 1, 2, 0, 2, 1, 100_000].map(value => value * unit);
      const outcome = [0, 1, 1, 0, 1, 0, 0, 1, 1];
      const model = logisticModel({ outcome, covariates: { x } }, { penalty: 'firth' });
      expect(model.converged).toBe(true);
      expect(model.fitted[8]).toBeCloseTo(0.75, 3);
      expectClose((model.terms[1]?.coefficient ?? 0) * unit * 100_000, Math.log(3), 0.02);
    }
  });

  it("Firth's penalty with several covariates solves the modified scores", () => {
    const model = logisticModel(perfect, { penalty: 'firth' });
    expect(model.converged).toBe(true);
    expect(
      model.terms.every(
        term => Number.isFinite(term.coefficient ?? Number.NaN) && Number.isFinite(term.upper ?? Number.NaN),
      ),
    ).toBe(true);
  });
});

describe('properties', () => {
  const sample = fc.array(
    fc.record({ x: fc.integer({ min: 0, max: 4 }), z: fc.integer({ min: 0, max: 3 }), y: fc.boolean() }),
    { minLength: 30, maxLength: 60 },
  );

  it('two rows and a row of weight two are the same; outcomes flipped flip the signs', () => {
    fc.assert(
      fc.property(sample, drawn => {
        const varied = new Set(drawn.map(r => r.x)).size > 1 && new Set(drawn.map(r => r.z)).size > 1;
        fc.pre(varied && new Set(drawn.map(r => r.y)).size === 2);
        const data = (list: typeof drawn) => ({
          outcome: list.map(r => r.y),
          covariates: { x: list.map(r => r.x), z: list.map(r => r.z) },
        });
        let single: ReturnType<typeof logisticModel>;
        try {
          single = logisticModel({ ...data(drawn), weight: drawn.map(() => 2) });
        } catch (error) {
          fc.pre(!(error instanceof StatisticsError));
          throw error;
        }
        fc.pre(single.converged);
        const twice = logisticModel(data([...drawn, ...drawn]));
        const flipped = logisticModel({ ...data(drawn), outcome: drawn.map(r => !r.y) });
        for (const [j, term] of single.terms.entries()) {
          expect(twice.terms[j]?.coefficient).toBeCloseTo(term.coefficient ?? Number.NaN, 7);
          expect(twice.terms[j]?.standardError).toBeCloseTo(term.standardError ?? Number.NaN, 7);
          expect(flipped.terms[j]?.coefficient).toBeCloseTo(-(term.coefficient ?? Number.NaN), 7);
        }
      }),
      { seed: 11, numRuns: 60 },
    );
  });
});

describe('input it refuses', () => {
  const base = { outcome: [0, 1, 0, 1, 1], covariates: { x: [1, 2, 3, 5, 4] } };
  const cases: [string, () => unknown, string, RegExp][] = [
    ['nothing', () => logisticModel({ outcome: [], covariates: {} }), 'empty', /outcome/],
    ['no event', () => logisticModel({ ...base, outcome: [0, 0, 0, 0, 0] }), 'no-events', /outcome/],
    ['events only', () => logisticModel({ ...base, outcome: [1, 1, 1, 1, 1] }), 'one-group', /outcome/],
    [
      'an outcome of 2',
      () => logisticModel({ ...base, outcome: [0, 1, 2, 1, 1] }),
      'out-of-range',
      /outcome\[2\]/,
    ],
    [
      'a missing value',
      () => logisticModel({ ...base, covariates: { x: [1, 2, Number.NaN, 5, 4] } }),
      'missing-value',
      /covariates\.x\[2\]/,
    ],
    [
      'a short column',
      () => logisticModel({ ...base, covariates: { x: [1, 2] } }),
      'length',
      /covariates\.x/,
    ],
    [
      'a constant covariate',
      () => logisticModel({ ...base, covariates: { x: [2, 2, 2, 2, 2] } }),
      'constant-covariate',
      /covariates\.x/,
    ],
    [
      'collinear covariates',
      () => logisticModel({ ...base, covariates: { x: [1, 2, 3, 5, 4], y: [3, 5, 7, 11, 9] } }),
      'collinear-covariates',
      /covariates\.y is determined by intercept, x/,
    ],
    [
      'one cluster',
      () => logisticModel({ ...base, cluster: ['a', 'a', 'a', 'a', 'a'] }),
      'one-group',
      /cluster/,
    ],
    [
      'a weight of 0',
      () => logisticModel({ ...base, weight: [1, 0, 1, 1, 1] }),
      'out-of-range',
      /weight\[1\]/,
    ],
    ['a level of 95', () => logisticModel(base, { level: 95 }), 'out-of-range', /level/],
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
