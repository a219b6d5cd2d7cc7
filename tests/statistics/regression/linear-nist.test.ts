import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { linearModel } from '../../../src/statistics/regression/linear-model.ts';
import { expectClose } from '../relative.ts';

// NIST Statistical Reference Datasets, linear regression; certified to 15 digits (source in the JSON).
interface Certified {
  readonly estimates: number[];
  readonly standardErrors: number[];
  readonly residualStandardDeviation: number;
  readonly rSquared: number;
}
interface Dataset {
  readonly degree?: number;
  readonly intercept?: boolean;
  readonly x?: number[];
  readonly y?: number[];
  readonly names?: string[];
  readonly columns?: number[][];
  readonly delta?: number[];
  readonly certified: Certified;
}
const { datasets } = JSON.parse(
  readFileSync(new URL('../../reference/nist/linear-regression.json', import.meta.url), 'utf8'),
) as { datasets: Record<string, Dataset> };

function set(name: string): Dataset {
  const found = datasets[name];
  if (found === undefined) throw new Error(`no dataset ${name}`);
  return found;
}

/** Powers by repeated multiplication, so that each is rounded as little as it can be. */
function powers(x: readonly number[], degree: number): Record<string, number[]> {
  return Object.fromEntries(
    Array.from({ length: degree }, (_, k) => [`x${k + 1}`, x.map(value => value ** (k + 1))]),
  );
}

function expectCertified(
  model: ReturnType<typeof linearModel>,
  certified: Certified,
  tolerance: number,
): void {
  expectClose(
    model.terms.map(term => term.coefficient),
    certified.estimates,
    tolerance,
    0,
  );
  expectClose(
    model.terms.map(term => term.standardError),
    certified.standardErrors,
    tolerance,
    0,
  );
  expectClose(model.sigma, certified.residualStandardDeviation, tolerance);
  expectClose(model.rSquared, certified.rSquared, tolerance);
}

describe('NIST linear regression', () => {
  for (const name of ['Norris', 'Pontius', 'NoInt1', 'NoInt2']) {
    it(`dataset ${name}`, () => {
      const { x = [], y = [], degree = 1, intercept = true, certified } = set(name);
      expectCertified(
        linearModel({ outcome: y, covariates: powers(x, degree) }, { intercept }),
        certified,
        1e-12,
      );
    });
  }

  it('Longley', () => {
    const { names = [], columns = [], y = [], certified } = set('Longley');
    const covariates = Object.fromEntries(names.map((name, j) => [name, columns[j] ?? []]));
    expectCertified(linearModel({ outcome: y, covariates }), certified, 1e-11);
  });

  it('Filip: a polynomial of degree 10, as far as its rounded powers allow', () => {
    const { x = [], y = [], certified } = set('Filip');
    // The powers of x are rounded to doubles before they reach the fit; the design's condition number of 2e15 turns
    // those roundings, not the arithmetic, into the difference.
    expectCertified(linearModel({ outcome: y, covariates: powers(x, 10) }), certified, 5e-7);
  });

  const { delta = [], certified } = set('Wampler');
  const x = Array.from({ length: 21 }, (_, i) => i);
  const sum = (value: number, step: number): number =>
    [0, 1, 2, 3, 4, 5].reduce((total, k) => total + (step * value) ** k, 0);

  it('Wampler1: an exact fit', () => {
    const model = linearModel({ outcome: x.map(value => sum(value, 1)), covariates: powers(x, 5) });
    for (const term of model.terms) expect(Math.abs(term.coefficient - 1)).toBeLessThan(1e-12);
    expect(model.sigma).toBeLessThan(1e-9);
    expect(model.rSquared).toBe(1);
  });

  it('Wampler2: an exact fit of decimals', () => {
    const model = linearModel({ outcome: x.map(value => sum(value, 0.1)), covariates: powers(x, 5) });
    for (const [k, term] of model.terms.entries()) expectClose(term.coefficient, 0.1 ** k, 1e-10);
    expect(model.sigma).toBeLessThan(1e-13);
  });

  // Wampler4 and 5 are Wampler3 with the deviations multiplied by 100 and 10,000, and so are their errors.
  for (const [name, factor] of [
    ['Wampler3', 1],
    ['Wampler4', 100],
    ['Wampler5', 10_000],
  ] as const) {
    it(`dataset ${name}`, () => {
      const outcome = x.map((value, i) => sum(value, 1) + factor * (delta[i] ?? 0));
      const model = linearModel({ outcome, covariates: powers(x, 5) });
      expectClose(
        model.terms.map(term => term.coefficient),
        certified.estimates,
        1e-11,
      );
      expectClose(
        model.terms.map(term => term.standardError),
        certified.standardErrors.map(error => error * factor),
        1e-11,
      );
      expectClose(model.sigma, certified.residualStandardDeviation * factor, 1e-12);
    });
  }
});
