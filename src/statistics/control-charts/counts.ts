import { LARGEST_COUNT } from '../distributions/counts.ts';
import { finiteColumn, finiteColumnOf } from '../columns.ts';
import { StatisticsError } from '../errors.ts';

/** Whole numbers of 0 or more. */
export function countColumn(name: string, values: ArrayLike<number>): Float64Array {
  const column = finiteColumn(name, values);
  for (const [i, value] of column.entries()) {
    if (value < 0 || value > LARGEST_COUNT) {
      throw new StatisticsError('out-of-range', `${name}[${i}] is ${value}; a count of 0 to 1e12 is needed`);
    }
    if (!Number.isInteger(value)) {
      throw new StatisticsError('not-a-whole-number', `${name}[${i}] is ${value}; a whole number is needed`);
    }
  }
  return column;
}

/** Numbers above 0. */
export function positiveColumn(name: string, values: ArrayLike<number>, length: number): Float64Array {
  const column = finiteColumnOf(name, values, length);
  for (const [i, value] of column.entries()) {
    if (!(value >= 1e-50)) {
      throw new StatisticsError('out-of-range', `${name}[${i}] is ${value}; a number above 0 is needed`);
    }
  }
  return column;
}
