import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { matrixProduct, transposed } from '../../../src/statistics/linear-algebra/matrix-product.ts';
import { symmetricEigen } from '../../../src/statistics/linear-algebra/symmetric-eigen.ts';
import { expectClose } from '../relative.ts';

const descending = (values: readonly number[]): number[] => values.toSorted((a, b) => b - a);

describe('symmetricEigen', () => {
  it('gives those of a matrix that is nearly singular to their last digits', () => {
    const hilbert = Array.from({ length: 5 }, (_, i) =>
      Array.from({ length: 5 }, (_v, j) => 1 / (i + j + 1)),
    );
    // R 4.2.2, eigen(); the smallest is known to fewer digits there, so it is held to 1e-10.
    const reference = [
      1.5670506910982289, 0.20853421861101315, 0.011407491623419657, 0.00030589804015115381,
      3.287928772164759e-6,
    ];
    expectClose(descending(symmetricEigen(hilbert).values), reference, 1e-10);
  });

  it('gives those of the second difference, 2 - 2 cos(k pi / (n + 1))', () => {
    const size = 6;
    const second = Array.from({ length: size }, (_, i) =>
      Array.from({ length: size }, (_v, j) => (i === j ? 2 : Math.abs(i - j) === 1 ? -1 : 0)),
    );
    const known = Array.from(second, (_, k) => 2 - 2 * Math.cos(((k + 1) * Math.PI) / (size + 1)));
    expectClose(descending(symmetricEigen(second).values), descending(known), 1e-14);
  });

  it('gives the matrix back from its eigenvectors, which are orthonormal', () => {
    const symmetric = fc
      .integer({ min: 1, max: 6 })
      .chain(size =>
        fc
          .array(fc.integer({ min: -9, max: 9 }), { minLength: size * size, maxLength: size * size })
          .map(entries =>
            Array.from({ length: size }, (_, i) =>
              Array.from({ length: size }, (_v, j) => entries[Math.max(i, j) * size + Math.min(i, j)] ?? 0),
            ),
          ),
      );
    fc.assert(
      fc.property(symmetric, matrix => {
        const { values, vectors } = symmetricEigen(matrix);
        const scaled = vectors.map((vector, e) => vector.map(x => x * (values[e] ?? 0)));
        expectClose(matrixProduct(transposed(vectors), scaled).flat(), matrix.flat(), 1e-12, 10);
        const identity = matrix.map((_, i) => matrix.map((_row, j) => (i === j ? 1 : 0)));
        expectClose(matrixProduct(vectors, transposed(vectors)).flat(), identity.flat(), 1e-13, 1);
      }),
    );
  });

  it('leaves a diagonal matrix, and one of zeros, as it is', () => {
    expect(
      symmetricEigen([
        [3, 0],
        [0, -2],
      ]).values,
    ).toEqual([3, -2]);
    expect(
      symmetricEigen([
        [0, 0],
        [0, 0],
      ]).values,
    ).toEqual([0, 0]);
  });
});
