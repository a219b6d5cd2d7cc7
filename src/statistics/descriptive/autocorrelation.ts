import { finiteColumn } from '../columns.ts';
import { StatisticsError } from '../errors.ts';

/**
 * Correlation of a series with itself `lag` places on: sum of (x_i - m)(x_{i+lag} - m) over sum of (x_i - m)^2, m the
 * mean of all. Limits of a control chart assume it to be near 0. Undefined for a series that does not vary.
 *
 * Source: Box & Jenkins, Time Series Analysis, section 2.1.
 *
 * @throws StatisticsError `empty`, `missing-value`, `not-finite`; `out-of-range` for a lag not below the length
 * @example autocorrelation([1, 3, 2, 4, 3, 5]) // -0.1
 */
export function autocorrelation(values: ArrayLike<number>, lag = 1): number | undefined {
  const column = finiteColumn('values', values);
  const n = column.length;
  if (!Number.isInteger(lag) || lag < 1 || lag >= n) {
    throw new StatisticsError('out-of-range', `lag is ${lag}; 1 to ${n - 1} is needed`);
  }
  // The mean is taken of distances from the first value, which keeps the digits of a large common part.
  const origin = column[0] as number;
  const shifted = column.map(value => value - origin);
  const mean = shifted.reduce((sum, value) => sum + value, 0) / n;
  let square = 0;
  let product = 0;
  for (let i = 0; i < n; i++) {
    const distance = (shifted[i] as number) - mean;
    square += distance * distance;
    if (i + lag < n) product += distance * ((shifted[i + lag] as number) - mean);
  }
  return square > 0 ? product / square : undefined;
}
