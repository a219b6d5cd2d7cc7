import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { StatisticsError } from '../../../src/statistics/errors.ts';
import { linearModel } from '../../../src/statistics/regression/linear-model.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { expectClose, frozen, indicator } from '../relative.ts';

// Reference: R 4.2.2 lm, sandwich 3.0-2 (tests/reference/scripts/make-reference.R).
interface ReferenceFit {
  readonly coef: number[];
  readonly se: number[];
  readonly t: number[];
  readonly p: number[];
  readonly sigma: number;
  readonly r2: number;
  readonly adjR2: number;
  readonly f: number;
  readonly fDf: number[];
  readonly loglik: number;
  readonly vcov: number[][];
  readonly ci95: number[][];
}
interface Robust {
  readonly se: number[];
  readonly vcov: number[][];
}
const KINDS = ['hc0', 'hc1', 'hc2', 'hc3'] as const;
type Upper = 'HC0' | 'HC1' | 'HC2' | 'HC3';
const upper = (kind: (typeof KINDS)[number]): Upper => kind.toUpperCase() as Upper;

const robustValues = referenceValues('lm-robust').values as {
  lm: ReferenceFit;
  hc: Record<Upper, Robust>;
  clusterMonth: Record<Upper, Robust>;
  hat: number[];
  residuals: number[];
  orthodont: { lm: ReferenceFit; cluster: { HC0: Robust; HC1: Robust } };
  hcWarp: Record<Upper, Robust>;
};

const air = dataset('airquality').filter(row => row['Ozone'] !== '' && row['Solar.R'] !== '');
const ozone = frozen({
  outcome: numbers(air, 'Ozone'),
  covariates: { sun: numbers(air, 'Solar.R'), wind: numbers(air, 'Wind'), temp: numbers(air, 'Temp') },
});
const warp = dataset('warpbreaks');
const warpData = (() => {
  const woolB = indicator(warp, 'wool', 'B');
  const medium = indicator(warp, 'tension', 'M');
  const high = indicator(warp, 'tension', 'H');
  return {
    outcome: numbers(warp, 'breaks'),
    covariates: {
      woolB,
      medium,
      high,
      'woolB medium': woolB.map((value, i) => value * (medium[i] ?? 0)),
      'woolB high': woolB.map((value, i) => value * (high[i] ?? 0)),
    },
  };
})();
const growth = dataset('Orthodont');
const growthData = (() => {
  const age = numbers(growth, 'age');
  const male = indicator(growth, 'Sex', 'Male');
  return {
    outcome: numbers(growth, 'distance'),
    covariates: { age, male, 'age male': age.map((value, i) => value * (male[i] ?? 0)) },
    cluster: growth.map(row => row['Subject'] ?? ''),
  };
})();

function expectFit(model: ReturnType<typeof linearModel>, expected: ReferenceFit, tolerance = 1e-9): void {
  expectClose(
    model.terms.map(t => t.coefficient),
    expected.coef,
    tolerance,
  );
  expectClose(
    model.terms.map(t => t.standardError),
    expected.se,
    tolerance,
  );
  expectClose(model.naiveCovariance, expected.vcov, tolerance);
  expectClose(model.sigma, expected.sigma, tolerance);
  expectClose(model.rSquared, expected.r2, tolerance);
  expectClose(model.adjustedRSquared, expected.adjR2, tolerance);
  expectClose(model.fTest?.statistic, expected.f, tolerance);
  expect(model.fTest?.degreesOfFreedom).toEqual(expected.fDf);
  expectClose(model.logLikelihood, expected.loglik, tolerance);
}

describe('linearModel against reference fits', () => {
  it('ozone', () => {
    const model = linearModel(ozone);
    expectFit(model, robustValues.lm);
    expectClose(
      model.terms.map(t => [t.lower, t.upper]),
      robustValues.lm.ci95,
    );
    expectClose(
      model.terms.map(t => t.pValue),
      robustValues.lm.p,
    );
    expectClose(model.residuals, robustValues.residuals, 1e-9, 1e-3);
    expectClose(model.leverage, robustValues.hat);
    expect(model.residualDegreesOfFreedom).toBe(107);
  });

  it('warp breaks with interaction', () => {
    const expected = (referenceValues('anova-warpbreaks').values as { lm: ReferenceFit }).lm;
    const model = linearModel(warpData);
    expectFit(model, expected);
    expectClose(
      model.terms.map(t => t.pValue),
      expected.p,
    );
  });

  it('Longley in the units of the data file', () => {
    const rows = dataset('longley');
    const reference = referenceValues('lm-longley').values as {
      rQr: ReferenceFit;
      exactRational: { coef: number[] };
    };
    const names = ['GNP.deflator', 'GNP', 'Unemployed', 'Armed.Forces', 'Population', 'Year'];
    const model = linearModel({
      outcome: numbers(rows, 'Employed'),
      covariates: Object.fromEntries(names.map(name => [name, numbers(rows, name)])),
    });
    expectFit(model, reference.rQr);
    // Against the exact rational solution, rescaled to these units, the fit keeps three digits more.
    const units = [1000, 1000, 1, 100, 100, 1, 1000];
    expectClose(
      model.terms.map((t, j) => t.coefficient * (units[j] ?? 1)),
      reference.exactRational.coef,
      1e-12,
    );
  });

  for (const kind of KINDS) {
    it(`ozone, ${kind}`, () => {
      const model = linearModel(ozone, { robust: kind });
      expectClose(model.covariance, robustValues.hc[upper(kind)].vcov);
      expectClose(
        model.terms.map(t => t.robustStandardError),
        robustValues.hc[upper(kind)].se,
      );
      expectClose(
        model.terms.map(t => t.standardError),
        robustValues.lm.se,
      );
    });

    it(`warp breaks, ${kind}`, () => {
      // Some covariances of this balanced design are 0 but for rounding: compared on the scale of the others.
      expectClose(
        linearModel(warpData, { robust: kind }).covariance,
        robustValues.hcWarp[upper(kind)].vcov,
        1e-9,
        1,
      );
    });

    it(`ozone clustered by month, ${kind}`, () => {
      const model = linearModel({ ...ozone, cluster: numbers(air, 'Month') }, { robust: kind });
      expectClose(model.covariance, robustValues.clusterMonth[upper(kind)].vcov);
      expect(model.clusters).toBe(5);
    });
  }

  it('clusters alone give hc1 with G/(G - 1) (n - 1)/(n - k)', () => {
    const model = linearModel(growthData);
    expectFit(model, robustValues.orthodont.lm);
    expectClose(model.covariance, robustValues.orthodont.cluster.HC1.vcov);
    const term = model.terms[1];
    expectClose(term?.t, (term?.coefficient ?? 0) / (term?.robustStandardError ?? 1));
  });

  it('t on G - 1 degrees of freedom where asked for', () => {
    const residual = linearModel(growthData);
    const clusters = linearModel(growthData, { degreesOfFreedom: 'clusters' });
    expect(residual.degreesOfFreedom).toBe(104);
    expect(clusters.degreesOfFreedom).toBe(26);
    expect(clusters.terms[1]?.upper).toBeGreaterThan(residual.terms[1]?.upper ?? Number.NaN);
  });
});

describe('closed forms', () => {
  it('precision weights: a weighted mean, its error and log-likelihood', () => {
    const outcome = [2, 4, 9];
    const weight = [1, 2, 5];
    const model = linearModel({ outcome, covariates: {}, weight });
    const mean = (2 + 8 + 45) / 8;
    const deviance = (2 - mean) ** 2 + 2 * (4 - mean) ** 2 + 5 * (9 - mean) ** 2;
    expectClose(model.terms[0]?.coefficient, mean);
    expectClose(model.deviance, deviance);
    expectClose(model.terms[0]?.standardError, Math.sqrt(deviance / 2 / 8));
    const variance = deviance / 3;
    const density = (y: number, w: number): number =>
      -0.5 * Math.log((2 * Math.PI * variance) / w) - (w * (y - mean) ** 2) / (2 * variance);
    expectClose(model.logLikelihood, density(2, 1) + density(4, 2) + density(9, 5));
    expect(model.fTest).toBeUndefined();
  });

  it('an exact fit has no t, rather than an infinite one', () => {
    const model = linearModel({ outcome: [1, 1, 1, 1], covariates: { x: [0, 1, 0, 1] } });
    expect(model.sigma).toBe(0);
    expect(model.terms[1]).toMatchObject({ standardError: 0, t: undefined, pValue: undefined });
    expect(Math.abs(model.terms[1]?.coefficient ?? 1)).toBeLessThan(1e-15);
    expect(model.rSquared).toBeUndefined();
    expect(model.logLikelihood).toBeUndefined();
  });

  it('an offset is taken from the outcome', () => {
    const data = { outcome: [3, 5, 4, 9], covariates: { x: [1, 2, 4, 7] } };
    const shifted = linearModel({ ...data, offset: [1, 2, 4, 7] });
    const plain = linearModel(data);
    expectClose(shifted.terms[1]?.coefficient, (plain.terms[1]?.coefficient ?? 0) - 1);
  });
});

describe('properties', () => {
  const rows = fc.array(
    fc.record({
      x: fc.integer({ min: -50, max: 50 }),
      z: fc.integer({ min: -5, max: 5 }),
      y: fc.integer({ min: -1000, max: 1000 }),
    }),
    { minLength: 8, maxLength: 40 },
  );

  it('row order, scale of a covariate and shift of the outcome change only what they should', () => {
    fc.assert(
      fc.property(rows, drawn => {
        const data = (list: typeof drawn, scale: number, shift: number) => ({
          outcome: list.map(r => r.y + shift),
          covariates: { x: list.map(r => r.x * scale), z: list.map(r => r.z) },
        });
        let plain: ReturnType<typeof linearModel>;
        try {
          plain = linearModel(data(drawn, 1, 0), { robust: 'hc1' });
        } catch (error) {
          fc.pre(!(error instanceof StatisticsError));
          throw error;
        }
        fc.pre(plain.sigma > 1);
        const reordered = linearModel(data(drawn.toReversed(), 1, 0), { robust: 'hc1' });
        const changed = linearModel(data(drawn, 4, 64), { robust: 'hc1' });
        const size = plain.sigma;
        for (const [j, term] of plain.terms.entries()) {
          expectClose(reordered.terms[j]?.coefficient, term.coefficient, 1e-9, size * 1e-3);
          expectClose(reordered.terms[j]?.robustStandardError, term.robustStandardError, 1e-9, size * 1e-3);
        }
        expectClose(changed.terms[1]?.coefficient, (plain.terms[1]?.coefficient ?? 0) / 4, 1e-9, size * 1e-3);
        expectClose(
          changed.terms[0]?.coefficient,
          (plain.terms[0]?.coefficient ?? 0) + 64,
          1e-9,
          size * 1e-3,
        );
        expectClose(changed.sigma, plain.sigma);
      }),
      { seed: 5, numRuns: 100 },
    );
  });

  it('residuals are orthogonal to every covariate and leverages add up to the terms', () => {
    fc.assert(
      fc.property(rows, drawn => {
        fc.pre(new Set(drawn.map(r => r.x)).size > 2);
        const model = linearModel({ outcome: drawn.map(r => r.y), covariates: { x: drawn.map(r => r.x) } });
        const dot = model.residuals.reduce((sum, r, i) => sum + r * (drawn[i]?.x ?? 0), 0);
        expect(Math.abs(dot)).toBeLessThan(1e-6);
        expect(model.leverage.reduce((sum, h) => sum + h, 0)).toBeCloseTo(2, 10);
      }),
      { seed: 6, numRuns: 100 },
    );
  });
});

describe('input it refuses', () => {
  const base = { outcome: [1, 2, 4, 3], covariates: { x: [1, 2, 3, 5] } };
  const cases: [string, () => unknown, string, RegExp][] = [
    ['nothing', () => linearModel({ outcome: [], covariates: {} }), 'empty', /outcome/],
    [
      'infinity',
      () => linearModel({ ...base, outcome: [1, Number.POSITIVE_INFINITY, 2, 3] }),
      'not-finite',
      /\[1\]/,
    ],
    [
      'a constant covariate',
      () => linearModel({ ...base, covariates: { x: [7, 7, 7, 7] } }),
      'constant-covariate',
      /x is 7/,
    ],
    [
      'a sum of others',
      () =>
        linearModel({
          ...base,
          covariates: { a: [1, 0, 0.1, 0.7], b: [0, 1, 0.2, 0.3], c: [1, 1, 0.1 + 0.2, 1] },
        }),
      'collinear-covariates',
      /covariates\.c is determined by a, b/,
    ],
    [
      'more terms than rows',
      () => linearModel({ outcome: [1], covariates: { x: [1] } }),
      'constant-covariate',
      /x/,
    ],
    [
      'no degree of freedom',
      () => linearModel({ outcome: [1, 2], covariates: { x: [1, 3] } }),
      'out-of-range',
      /freedom/,
    ],
    [
      'an unknown robust kind',
      () => linearModel(base, { robust: 'hc9' as 'hc0' }),
      'unknown-option',
      /hc9.*none, hc0, hc1, hc2, hc3/,
    ],
    [
      'hc3 where a row fits itself',
      () => linearModel({ outcome: [1, 2, 4, 3], covariates: { x: [0, 0, 0, 1] } }, { robust: 'hc3' }),
      'out-of-range',
      /row 3 fits itself/,
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
