import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addMultiple, wide, wideDot } from '../../../src/statistics/linear-algebra/double-double.ts';
import {
  householderQr,
  inverseCrossProduct,
  leverages,
  multiplyByQ,
  multiplyByQTranspose,
  solveUpper,
  solveUpperTranspose,
} from '../../../src/statistics/linear-algebra/qr.ts';
import { expectClose } from '../relative.ts';

const matrix = fc
  .tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 4, max: 9 }))
  .chain(([columns, rows]) =>
    fc.array(
      fc
        .array(fc.integer({ min: -9, max: 9 }), { minLength: rows, maxLength: rows })
        .map(Float64Array.from.bind(Float64Array)),
      { minLength: columns, maxLength: columns },
    ),
  );

describe('householderQr', () => {
  it('Q R gives the matrix back, and Q leaves lengths alone', () => {
    fc.assert(
      fc.property(matrix, columns => {
        const qr = householderQr(columns);
        for (const [j, column] of columns.entries()) {
          const upper = new Float64Array(qr.rows);
          for (let i = 0; i < j; i++) upper[i] = qr.columns[j]?.[i] ?? 0;
          upper[j] = qr.diagonal[j] ?? 0;
          multiplyByQ(qr, upper);
          expectClose(Array.from(upper), Array.from(column), 1e-12, 1);
          const there = Float64Array.from(column);
          multiplyByQTranspose(qr, there);
          expectClose(Math.hypot(...there), Math.hypot(...column), 1e-12, 1);
          multiplyByQ(qr, there);
          expectClose(Array.from(there), Array.from(column), 1e-12, 1);
        }
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('triangular solves, inverse cross product and hat values by hand', () => {
    // X = (1, 1, 1), (0, 1, 2): X'X = [[3, 3], [3, 5]], its inverse [[5, -3], [-3, 3]] / 6.
    const qr = householderQr([Float64Array.of(1, 1, 1), Float64Array.of(0, 1, 2)]);
    expectClose(inverseCrossProduct(qr), [
      [5 / 6, -0.5],
      [-0.5, 0.5],
    ]);
    expectClose(Array.from(leverages(qr)), [5 / 6, 1 / 3, 5 / 6]);
    const solved = solveUpper(qr, solveUpperTranspose(qr, [3, 5]));
    expectClose(Array.from(solved), [0, 1], 1e-12, 1);
  });

  it('tells a column that others determine', () => {
    const a = Float64Array.of(1, 2, 3, 4);
    const b = Float64Array.of(2, 1, 0, 5);
    const { independence } = householderQr([a, b, a.map((value, i) => 0.1 * value + 0.7 * (b[i] ?? 0))]);
    expect(independence[0]).toBe(1);
    expect(independence[1]).toBeGreaterThan(0.5);
    expect(independence[2]).toBeLessThan(1e-14);
  });

  it('a column of zeros is passed over', () => {
    const { independence, diagonal } = householderQr([Float64Array.of(0, 0), Float64Array.of(3, 4)]);
    expect(Array.from(independence)).toEqual([0, 0.8]);
    expect(diagonal[0]).toBe(0);
  });
});

describe('double-double sums', () => {
  it('keep what ordinary sums lose', () => {
    const sum = wide(Float64Array.of(1e16));
    addMultiple(sum, 1, Float64Array.of(1));
    addMultiple(sum, -1, Float64Array.of(1e16));
    expect((sum.high[0] ?? 0) + (sum.low[0] ?? 0)).toBe(1);
    expect(wideDot(Float64Array.of(1e16, 1, -1e16), Float64Array.of(1, 1, 1))).toBe(1);
  });

  it('products are exact: (1 + e)(1 - e) - 1 = -e^2', () => {
    const e = 2 ** -30;
    expect(wideDot(Float64Array.of(1 + e, -1), Float64Array.of(1 - e, 1))).toBe(-(e * e));
    const sum = wide(Float64Array.of(-1));
    addMultiple(sum, 1 + e, Float64Array.of(1 - e));
    expect((sum.high[0] ?? 0) + (sum.low[0] ?? 0)).toBe(-(e * e));
  });
});
