import { finiteColumn, finiteColumnOf, requireComparable } from './columns.ts';
import { StatisticsError } from './errors.ts';

/**
 * Follow-up times: finite and not negative. A time of 0 is allowed: the row is at risk at 0 and may have its
 * event there.
 *
 * @throws StatisticsError as `finiteColumn`, and `out-of-range` for a negative time
 */
export function followUpColumn(name: string, values: ArrayLike<number>): Float64Array {
  const column = finiteColumn(name, values);
  refuseNegative(name, column, 'a time of 0 or later');
  return column;
}

/**
 * Late entry: the time after which a row is at risk. An entry of 0 means under observation from the origin.
 *
 * @throws StatisticsError `entry-not-before-exit` where a row would never be at risk, and as `followUpColumn`
 */
export function entryColumn(name: string, values: ArrayLike<number>, exit: Float64Array): Float64Array {
  const column = finiteColumnOf(name, values, exit.length);
  refuseNegative(name, column, 'a time of 0 or later');
  for (let i = 0; i < column.length; i++) {
    if ((column[i] as number) >= (exit[i] as number)) {
      throw new StatisticsError(
        'entry-not-before-exit',
        `${name}[${i}] is ${column[i]} and the exit is ${exit[i]}; entry must come before exit`,
      );
    }
  }
  return column;
}

/**
 * @throws StatisticsError `out-of-range` for a negative weight, if no weight is above 0 or they differ by a
 *   factor above 1e12, and as `finiteColumn`
 */
export function weightColumn(name: string, values: ArrayLike<number>, length: number): Float64Array {
  const column = finiteColumnOf(name, values, length);
  refuseNegative(name, column, 'a weight of 0 or more');
  if (!column.some(weight => weight > 0)) {
    throw new StatisticsError('out-of-range', `${name} holds only zeros; a weight above 0 is needed`);
  }
  requireComparable(name, column);
  return column;
}

function refuseNegative(name: string, column: Float64Array, needed: string): void {
  for (let i = 0; i < column.length; i++) {
    if ((column[i] as number) < 0) {
      throw new StatisticsError('out-of-range', `${name}[${i}] is ${column[i]}; ${needed} is needed`);
    }
  }
}
