import { describe, expect, it } from 'vitest';
import { multipleImputation, poolEstimates } from '../../../src/statistics/missing-data/index.ts';
import { linearModel } from '../../../src/statistics/regression/linear-model.ts';
import { randomStream } from '../../../src/statistics/resampling/index.ts';
import { frozen } from '../relative.ts';

/** A grade of 0 to 2 that depends on x, and an outcome that depends on both; the grade is missing more often at high x. */
function simulated(n: number, seed: number) {
  const random = randomStream(seed);
  const x = Array.from({ length: n }, () => random.normal());
  const grade = x.map(value => {
    const latent = value + random.normal();
    return latent < -0.7 ? 0 : latent < 0.9 ? 1 : 2;
  });
  const y = x.map((value, i) => 1 + 0.5 * value + 2 * (grade[i] ?? 0) + random.normal());
  const holed = grade.map((value, i) =>
    random.uniform() < ((x[i] ?? 0) > 0.3 ? 0.6 : 0.1) ? undefined : value,
  );
  return { x, grade, y, holed };
}

describe('multipleImputation', () => {
  it('fills only what is missing, with values that occur, the same for the same seed', () => {
    const { x, y, holed } = simulated(120, 1);
    const table = frozen({ x, y, grade: holed });
    const result = multipleImputation(table, { seed: 9, imputations: 3, iterations: 4 });
    expect(result.completed).toHaveLength(3);
    expect(result.missing).toEqual({ x: 0, y: 0, grade: holed.filter(value => value === undefined).length });
    for (const completed of result.completed) {
      expect(completed['x']).toEqual(Float64Array.from(x));
      for (const [i, value] of (completed['grade'] ?? new Float64Array(0)).entries()) {
        expect([0, 1, 2]).toContain(value);
        expect(value).toBe(holed[i] ?? value);
      }
    }
    expect(multipleImputation(table, { seed: 9, imputations: 3, iterations: 4 })).toEqual(result);
    expect(result.completed[0]?.['grade']).not.toEqual(result.completed[1]?.['grade']);
  });

  it('recovers the mean grade and its slope where the complete rows are biased', () => {
    const n = 3000;
    const { x, y, grade, holed } = simulated(n, 2);
    const mean = (values: ArrayLike<number>): number =>
      Array.from(values).reduce((sum, v) => sum + v, 0) / values.length;
    const complete = holed.filter(value => value !== undefined);
    expect(mean(grade) - mean(complete)).toBeGreaterThan(0.1);
    const result = multipleImputation({ x, y, grade: holed }, { seed: 3, imputations: 10, iterations: 5 });
    const means = result.completed.map(table => mean(table['grade'] ?? []));
    expect(Math.abs(mean(means) - mean(grade))).toBeLessThan(0.03);
    const fits = result.completed.map(table =>
      linearModel({ outcome: y, covariates: { x, grade: table['grade'] ?? [] } }),
    );
    const pooled = poolEstimates(
      {
        estimate: fits.map(fit => fit.terms[2]?.coefficient ?? Number.NaN),
        variance: fits.map(fit => (fit.terms[2]?.standardError ?? Number.NaN) ** 2),
      },
      { completeDegreesOfFreedom: n - 3 },
    );
    expect(Math.abs(pooled.estimate - 2)).toBeLessThan(4 * pooled.standardError);
    expect(pooled.missingInformation).toBeGreaterThan(0.05);
  });

  it('two incomplete variables feed each other; null and NaN are missing too', () => {
    const result = multipleImputation(
      { a: [1, 0, null, 1, 0, 1], b: [Number.NaN, 2, 3, 3, 2, undefined] },
      { seed: 1, imputations: 2, iterations: 3, donors: 3 },
    );
    expect(result.missing).toEqual({ a: 1, b: 2 });
    for (const table of result.completed) {
      expect([0, 1]).toContain(table['a']?.[2]);
      expect([2, 3]).toContain(table['b']?.[0]);
    }
  });

  it('a variable with one observed value is filled with it', () => {
    const { completed } = multipleImputation({ a: [7, undefined], b: [1, 2] }, { seed: 1, imputations: 1 });
    expect(completed[0]?.['a']).toEqual(Float64Array.from([7, 7]));
  });

  it('refuses what it cannot impute', () => {
    expect(() => multipleImputation({}, { seed: 1 })).toThrow(/empty/);
    expect(() => multipleImputation({ a: [undefined, null] }, { seed: 1 })).toThrow(
      /a is missing in every row/,
    );
    expect(() => multipleImputation({ a: [1, 2], b: [1] }, { seed: 1 })).toThrow(/b has 1/);
    expect(() => multipleImputation({ a: [1, Number.POSITIVE_INFINITY] }, { seed: 1 })).toThrow(/a\[1\]/);
    expect(() => multipleImputation({ a: [1, 2] }, { seed: 1, donors: 0 })).toThrow(/donors/);
  });
});
