import { mean, quantile, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { adjustPValues } from '../../src/statistics/adjust-p-values.ts';
import { dataset, numbers, referenceValues } from '../reference/load.ts';
import { errorCode, expectNear } from './near.ts';

interface Adjusted {
  readonly p: readonly (number | null)[];
  readonly holm: readonly (number | null)[];
  readonly bh: readonly (number | null)[];
  readonly bonferroni: readonly (number | null)[];
}
const { padjust } = referenceValues('distributions').values as { readonly padjust: Adjusted };
const present = (values: readonly (number | null)[]): number[] => values.filter(value => value !== null);

// R 4.2.2 p.adjust, which leaves a missing p-value out of the count of tests.
describe('p-values adjusted for many tests', () => {
  it.each([
    ['holm', padjust.holm],
    ['benjamini-hochberg', padjust.bh],
    ['bonferroni', padjust.bonferroni],
    ['none', padjust.p],
  ] as const)('%s', (method, expected) => {
    const raw = Object.freeze(present(padjust.p));
    const adjusted = adjustPValues(raw, method);
    expect(adjusted.length).toBe(raw.length);
    for (const [i, value] of present(expected).entries()) expectNear(adjusted[i], value, 1e-14);
  });
  it('keeps the order given', () => {
    expect(adjustPValues([0.04, 0.01, 0.03], 'holm')).toEqual([0.06, 0.03, 0.06]);
    expect(adjustPValues([], 'holm')).toEqual([]);
  });
  it.each([
    ['out-of-range', () => adjustPValues([0.5, 1.2])],
    ['out-of-range', () => adjustPValues([-0.1])],
    ['missing-value', () => adjustPValues([Number.NaN])],
  ] as const)('refuses with %s', (code, call) => {
    expect(errorCode(call)).toBe(code);
  });
});

interface Descriptive {
  readonly n: number;
  readonly types: { readonly type7: readonly number[] };
  readonly mean: number;
  readonly sd: number;
}
// The library used for summaries: its quantile is type 7 (linear between order statistics, from the first to the last).
describe('descriptive summaries of the library', () => {
  const expected = referenceValues('quantiles-descriptive').values as Descriptive;
  const ozone = numbers(
    dataset('airquality').filter(row => row['Ozone'] !== ''),
    'Ozone',
  );
  it('agree in mean and standard deviation', () => {
    expect(ozone.length).toBe(expected.n);
    expectNear(mean(ozone), expected.mean, 1e-14);
    expectNear(sampleStandardDeviation(ozone), expected.sd, 1e-13);
  });
  it('agree in quantiles of type 7', () => {
    expect([0.1, 0.25, 0.5, 0.75, 0.9].map(p => quantile(ozone, p))).toEqual(expected.types.type7);
  });
});
