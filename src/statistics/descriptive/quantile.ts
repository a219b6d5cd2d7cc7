import { finiteColumn } from '../columns.ts';
import { StatisticsError } from '../errors.ts';

/** Hyndman and Fan's definitions of a sample quantile. */
export type QuantileType = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9;

/** Shifts (alpha, beta) of the definitions that interpolate: the position is alpha + p (n + 1 - alpha - beta). */
const SHIFTS: Readonly<Record<number, readonly [number, number]>> = {
  4: [0, 1],
  5: [0.5, 0.5],
  6: [0, 0],
  7: [1, 1],
  8: [1 / 3, 1 / 3],
  9: [3 / 8, 3 / 8],
};

/**
 * Sample quantiles at the given probabilities. Types 4 to 9 interpolate between order statistics at the position
 * alpha + p (n + 1 - alpha - beta), 7 being the usual one; type 1 is the inverse of the empirical distribution, 2
 * the same with the average at jumps, 3 the nearest order statistic, even ranks first.
 *
 * Source: Hyndman & Fan, Am Stat 1996;50:361-365.
 *
 * @throws StatisticsError `empty`, `missing-value`, `not-finite`; `out-of-range` for a probability outside 0 to 1;
 * `unknown-option`
 *
 * @example sampleQuantiles([3, 1, 2, 10], [0.5]) // [2.5]
 */
export function sampleQuantiles(
  values: ArrayLike<number>,
  probabilities: readonly number[],
  type: QuantileType = 7,
): number[] {
  const sorted = finiteColumn('values', values).sort();
  if (!Number.isInteger(type) || type < 1 || type > 9) {
    throw new StatisticsError('unknown-option', `type is ${String(type)}; allowed: 1 to 9`);
  }
  return probabilities.map((p, i) => {
    if (!(p >= 0 && p <= 1)) {
      throw new StatisticsError('out-of-range', `probabilities[${i}] is ${p}; 0 to 1 is needed`);
    }
    return quantileOf(sorted, p, type);
  });
}

function quantileOf(sorted: Float64Array, p: number, type: QuantileType): number {
  const n = sorted.length;
  const [alpha, beta] = SHIFTS[type] ?? (type === 3 ? [-0.5, 1.5] : [0, 1]);
  const position = alpha + p * (n + 1 - alpha - beta);
  // A position within rounding of a whole number is that number, or a jump would depend on the last bit.
  const slack = 4 * Number.EPSILON * Math.max(1, position);
  const rank = Math.floor(position + slack);
  const rest = Math.abs(position - rank) < slack ? 0 : position - rank;
  const low = orderStatistic(sorted, rank);
  const high = orderStatistic(sorted, rank + 1);
  return low + weightOf(type, rest, rank) * (high - low);
}

function weightOf(type: QuantileType, rest: number, rank: number): number {
  if (type === 1) return rest > 0 ? 1 : 0;
  if (type === 2) return rest > 0 ? 1 : 0.5;
  if (type === 3) return rest === 0 && rank % 2 === 0 ? 0 : 1;
  return rest;
}

function orderStatistic(sorted: Float64Array, rank: number): number {
  return sorted[Math.min(Math.max(rank, 1), sorted.length) - 1] as number;
}
