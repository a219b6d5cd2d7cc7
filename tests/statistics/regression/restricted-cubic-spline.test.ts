import { describe, expect, it } from 'vitest';
import { linearModel } from '../../../src/statistics/regression/linear-model.ts';
import { splineColumns, splineKnots } from '../../../src/statistics/regression/restricted-cubic-spline.ts';
import { StatisticsError } from '../../../src/statistics/errors.ts';

const X = [0.3, 1, 1.7, 2.2, 3, 3.1, 4.8, 5, 6.4, 7.7, 8, 9.1];
const Y = [1, 0.4, 2, 1.1, 3, 2.2, 1.9, 2.8, 4, 3.3, 2.5, 5];

describe('splineKnots', () => {
  it('lies at the quantiles 0.05, 0.35, 0.65 and 0.95 of the values in any order', () => {
    // quantile(x, c(.05, .35, .65, .95)), R 4.2.2
    const expected = [0.685, 2.88, 5.21, 8.495];
    for (const [place, knot] of splineKnots([...X].reverse()).entries()) {
      expect(knot).toBeCloseTo(expected[place] ?? Number.NaN, 12);
    }
  });

  it('gives one knot for those that fall together', () => {
    expect(splineKnots([5, 5, 5, 5])).toEqual([5]);
    expect(splineKnots([1, 1, 1, 1, 1, 1, 1, 9, 9])).toEqual([1, 9]);
  });
});

describe('splineColumns', () => {
  it('spans the same curves as a natural spline with the same knots', () => {
    // fitted(lm(y ~ splines::ns(x, knots = k[2:3], Boundary.knots = k[c(1, 4)]))), R 4.2.2
    const expected = [
      0.57740351420261, 1.07544262078672, 1.55036754188881, 1.84946816581365, 2.20966768239401,
      2.24198452597306, 2.55682392122322, 2.59102221196836, 2.99616795578597, 3.56971451192766,
      3.71640540587311, 4.26553194216282,
    ];
    const columns = splineColumns(X, splineKnots(X));
    const covariates = Object.fromEntries(columns.map((column, j) => [`c${j}`, column]));
    const { fitted } = linearModel({ outcome: Y, covariates });
    expect(fitted).toHaveLength(expected.length);
    for (const [i, value] of fitted.entries()) expect(value).toBeCloseTo(expected[i] ?? Number.NaN, 11);
  });

  it('is straight beyond the outer knots', () => {
    const [, curved] = splineColumns([10, 11, 12, 13, -3, -2], [0, 1, 4, 6, 9]);
    const value = (i: number): number => curved?.[i] ?? Number.NaN;
    expect(value(1) - value(0)).toBeCloseTo(value(2) - value(1), 10);
    expect(value(2) - value(1)).toBeCloseTo(value(3) - value(2), 10);
    expect([value(4), value(5)]).toEqual([0, 0]);
  });

  it('works out the example by hand: x = 1 and 2, knots 0, 1, 2', () => {
    // (1^3 - 2 x 0 + 0)/4, and (2^3 - 2 x 1^3 + 0)/4
    expect([...(splineColumns([0, 1, 2], [0, 1, 2])[1] ?? [])]).toEqual([0, 0.25, 1.5]);
  });

  it('is the line alone with fewer than three knots, and refuses knots that do not ascend', () => {
    expect(splineColumns([1, 2], [1, 2])).toHaveLength(1);
    expect(() => splineColumns([1, 2], [1, 3, 3])).toThrow(StatisticsError);
  });
});
