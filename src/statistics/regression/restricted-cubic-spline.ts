import { finiteColumn, requireSize } from '../columns.ts';
import { sampleQuantiles } from '../descriptive/quantile.ts';
import { StatisticsError } from '../errors.ts';
import { requireOption } from '../option.ts';

/** Shares of the values below each knot, by the number of knots. */
const KNOT_SHARES: Readonly<Record<3 | 4 | 5, readonly number[]>> = {
  3: [0.1, 0.5, 0.9],
  4: [0.05, 0.35, 0.65, 0.95],
  5: [0.05, 0.275, 0.5, 0.725, 0.95],
};

/**
 * Knots of a restricted cubic spline at fixed quantiles of the values; knots that fall together count once, so that
 * tied values give fewer.
 *
 * Source of the quantiles: Harrell, Regression Modeling Strategies, 2nd edition, table 2.3.
 *
 * @throws StatisticsError `empty`, `missing-value`, `not-finite`; `unknown-option` for another count
 * @example splineKnots([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], 3) // [1.9, 5.5, 9.1]
 */
export function splineKnots(values: ArrayLike<number>, count: 3 | 4 | 5 = 4): readonly number[] {
  const column = finiteColumn('values', values);
  requireOption('count', count, [3, 4, 5]);
  const knots = sampleQuantiles(column, KNOT_SHARES[count]);
  return knots.filter((knot, place) => place === 0 || knot > (knots[place - 1] ?? knot));
}

/**
 * Columns of a restricted cubic spline: a cubic in each stretch between knots, smooth at the knots and straight beyond
 * the outer ones. The first column is x itself; with knots t_1 to t_k there are k - 2 more, column j being
 * (x - t_j)+^3 - (x - t_(k-1))+^3 (t_k - t_j)/(t_k - t_(k-1)) + (x - t_k)+^3 (t_(k-1) - t_j)/(t_k - t_(k-1)), over
 * (t_k - t_1)^2. With fewer than three knots the line alone.
 *
 * Source: Durrleman & Simon, Stat Med 1989;8:551-561; Stone & Koo 1985.
 *
 * @throws StatisticsError `empty`, `missing-value`, `not-finite`; `out-of-range` for knots that do not ascend
 *
 * @example splineColumns([0, 1, 2], [0, 1, 2])[1] // [0, 0.25, 1.5]
 */
export function splineColumns(x: ArrayLike<number>, knots: readonly number[]): readonly Float64Array[] {
  const column = finiteColumn('x', x);
  for (const [j, knot] of knots.entries()) requireSize(`knots[${j}]`, knot);
  for (let j = 1; j < knots.length; j++) {
    if (!((knots[j] as number) > (knots[j - 1] as number))) {
      throw new StatisticsError('out-of-range', `knots are ${knots.join(', ')}; they must ascend`);
    }
  }
  const k = knots.length;
  if (k < 3) return [column];
  const first = knots[0] as number;
  const last = knots[k - 1] as number;
  const before = knots[k - 2] as number;
  const size = (last - first) ** 2;
  const cubed = (value: number): number => (value > 0 ? value * value * value : 0);
  const curved = knots.slice(0, k - 2).map(knot => {
    const share = (last - knot) / (last - before);
    return column.map(
      value =>
        (cubed(value - knot) - share * cubed(value - before) + (share - 1) * cubed(value - last)) / size,
    );
  });
  return [column, ...curved];
}
