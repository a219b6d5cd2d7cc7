import { readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  autocorrelation,
  summarise,
  type QuantileType,
  sampleQuantiles,
} from '../../../src/statistics/descriptive/index.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { expectClose, frozen } from '../relative.ts';

describe('NIST univariate summary statistics', () => {
  // Certified to 15 digits (source in the JSON).
  interface Entry {
    readonly values?: number[];
    readonly certified: { n: number; mean: number; standardDeviation: number; autocorrelation: number };
  }
  const { datasets } = JSON.parse(
    readFileSync(new URL('../../reference/nist/univariate.json', import.meta.url), 'utf8'),
  ) as { datasets: Record<string, Entry> };

  /** NumAcc2 to 4: a middle value, then 500 pairs one tenth below and above it. */
  const pairs = (middle: number, low: number, high: number): number[] => [
    middle,
    ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? low : high)),
  ];
  const generated: Record<string, number[]> = {
    NumAcc1: [10_000_001, 10_000_003, 10_000_002],
    NumAcc2: pairs(1.2, 1.1, 1.3),
    NumAcc3: pairs(1_000_000.2, 1_000_000.1, 1_000_000.3),
    NumAcc4: pairs(10_000_000.2, 10_000_000.1, 10_000_000.3),
  };
  // The decimals of NumAcc3 and 4 are not doubles: rounding a value near 1e7 moves it by 1e-9, 1e-8 of the deviation.
  const tolerance: Record<string, number> = { NumAcc3: 1e-9, NumAcc4: 1e-8 };

  for (const [name, { values, certified }] of Object.entries(datasets)) {
    it(`dataset ${name}`, () => {
      const data = frozen(values ?? generated[name] ?? []);
      const found = summarise(data);
      expect(found.n).toBe(certified.n);
      expectClose(found.mean, certified.mean, 1e-14);
      expectClose(found.standardDeviation, certified.standardDeviation, tolerance[name] ?? 1e-12);
      expectClose(autocorrelation(data), certified.autocorrelation, tolerance[name] ?? 1e-11);
    });
  }
});

describe('ozone against reference values', () => {
  // Reference: R 4.2.2 quantile types 1 to 9, t.test, mad (tests/reference/scripts/make-reference.R).
  const reference = referenceValues('quantiles-descriptive').values as {
    n: number;
    types: Record<string, number[]>;
    mean: number;
    sd: number;
    se: number;
    meanCi: number[];
    mad: number;
    iqr: number;
  };
  const ozone = frozen(
    numbers(
      dataset('airquality').filter(row => row['Ozone'] !== ''),
      'Ozone',
    ),
  );

  for (const type of [1, 2, 3, 4, 5, 6, 7, 8, 9] as const satisfies readonly QuantileType[]) {
    it(`quantiles of type ${type}`, () => {
      expectClose(
        sampleQuantiles(ozone, [0.1, 0.25, 0.5, 0.75, 0.9], type),
        reference.types[`type${type}`],
        1e-13,
      );
    });
  }

  it('summary', () => {
    const found = summarise(ozone);
    expectClose(
      [found.mean, found.standardDeviation, found.standardError, found.lower, found.upper],
      [reference.mean, reference.sd, reference.se, ...reference.meanCi],
    );
    // The reference rescales the median absolute deviation by 1.4826.
    expectClose(found.medianAbsoluteDeviation * 1.4826, reference.mad);
    expectClose(found.upperQuartile - found.lowerQuartile, reference.iqr);
  });
});

describe('edges', () => {
  it('one value has no spread', () => {
    expect(summarise([4])).toMatchObject({
      n: 1,
      mean: 4,
      standardDeviation: undefined,
      lower: undefined,
      median: 4,
    });
  });

  it('quantiles lie within the data, rise with the probability, and types agree in a constant column', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 1, maxLength: 30 }),
        fc.integer({ min: 1, max: 9 }),
        (values, type) => {
          const found = sampleQuantiles(values, [0, 0.2, 0.5, 0.7, 1], type as QuantileType);
          expect(found[0]).toBe(Math.min(...values));
          expect(found[4]).toBe(Math.max(...values));
          expect(found).toEqual(found.toSorted((a, b) => a - b));
          expect(
            sampleQuantiles(
              values.map(() => 3),
              [0.3],
              type as QuantileType,
            ),
          ).toEqual([3]);
        },
      ),
      { seed: 4, numRuns: 300 },
    );
  });

  it('a series that does not vary has no autocorrelation', () => {
    expect(autocorrelation([2, 2, 2])).toBeUndefined();
    expect(() => autocorrelation([1, 2], 2)).toThrow(/lag is 2/);
  });

  it('refuses missing values and probabilities outside 0 to 1', () => {
    expect(() => summarise([1, Number.NaN])).toThrow(/values\[1\] is missing/);
    expect(() => summarise([])).toThrow(/empty/);
    expect(() => sampleQuantiles([1], [1.1])).toThrow(/probabilities\[0\]/);
    expect(() => sampleQuantiles([1], [0.5], 10 as QuantileType)).toThrow(/1 to 9/);
  });
});
