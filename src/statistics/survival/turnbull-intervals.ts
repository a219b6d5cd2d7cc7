import { requireLength } from '../columns.ts';
import { distinctTimes } from '../distinct-times.ts';
import { StatisticsError } from '../errors.ts';
import { weightColumn } from '../follow-up-columns.ts';

/** Event times known only to lie in an interval. */
export interface IntervalCensoredData {
  /** The last time known to be event-free; the event lies after it. 0 (or -Infinity) if there is none. */
  readonly lower: ArrayLike<number>;
  /**
   * The first time by which the event is known to have happened; Infinity if it is not known to
   * (right-censored). Equal to `lower`: the exact time.
   */
  readonly upper: ArrayLike<number>;
  /** Weight of each row; a whole number stands for that many equal rows. */
  readonly weight?: ArrayLike<number> | undefined;
}

/** Checked interval-censored rows. */
export interface IntervalRows {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly weight: Float64Array;
}

/**
 * The innermost intervals, and for each observation the first and the last of them that lie inside it; equal
 * observations are added up.
 */
export interface InnermostIntervals {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly first: Int32Array;
  readonly last: Int32Array;
  readonly weight: Float64Array;
}

/**
 * @throws StatisticsError `out-of-range` if lower is above upper, or below 0 but for -Infinity; `empty`,
 *   `length`, `missing-value`, `not-finite`
 */
export function checkedIntervals(data: IntervalCensoredData): IntervalRows {
  const n = data.lower.length;
  if (n === 0) throw new StatisticsError('empty', 'lower is empty; at least one value is needed');
  requireLength('upper', data.upper, n);
  const lower = bounds('lower', data.lower, Number.NEGATIVE_INFINITY);
  const upper = bounds('upper', data.upper, Number.POSITIVE_INFINITY);
  for (let i = 0; i < n; i++) {
    if ((lower[i] as number) > (upper[i] as number)) {
      throw new StatisticsError(
        'out-of-range',
        `lower[${i}] is ${lower[i]} and upper[${i}] is ${upper[i]}; lower must not be above upper`,
      );
    }
  }
  const weight = data.weight ? weightColumn('weight', data.weight, n) : new Float64Array(n).fill(1);
  return { lower, upper, weight };
}

function bounds(name: string, values: ArrayLike<number>, unbounded: number): Float64Array {
  const column = new Float64Array(values.length);
  for (let i = 0; i < column.length; i++) {
    const value = values[i];
    if (typeof value !== 'number' || Number.isNaN(value)) {
      throw new StatisticsError(
        'missing-value',
        `${name}[${i}] is missing; a time or ${unbounded} is needed`,
      );
    }
    if (value === unbounded || (value >= 0 && Number.isFinite(value))) column[i] = value;
    else if (Number.isFinite(value)) {
      throw new StatisticsError(
        'out-of-range',
        `${name}[${i}] is ${value}; 0 or later, or ${unbounded} is needed`,
      );
    } else {
      throw new StatisticsError('not-finite', `${name}[${i}] is ${value}; a time or ${unbounded} is needed`);
    }
  }
  return column;
}

/**
 * The innermost intervals: those from a left end of some observation to the next end above it, when that is a
 * right end. Only they can hold mass. At one time the ends stand in the order: exact time (left end, closed),
 * right ends, open left ends; so ranks decide, not arithmetic on times.
 */
export function innermostIntervals(rows: IntervalRows): InnermostIntervals {
  const n = rows.lower.length;
  const { left, right, keys, valueOf } = endKeys(rows);
  const isLeft = new Uint8Array(keys);
  const isRight = new Uint8Array(keys);
  for (let i = 0; i < n; i++) {
    if ((rows.weight[i] as number) === 0) continue;
    isLeft[left[i] as number] = 1;
    isRight[right[i] as number] = 1;
  }
  const lower: number[] = [];
  const upper: number[] = [];
  /** How many innermost intervals begin before the key, and end at it or before. */
  const begun = new Int32Array(keys + 1);
  const ended = new Int32Array(keys + 1);
  let open = -1;
  const starts = new Uint8Array(keys);
  for (let key = 0; key < keys; key++) {
    if (isLeft[key] === 1) open = key;
    if (isRight[key] === 1 && open >= 0) {
      starts[open] = 1;
      lower.push(valueOf(open));
      upper.push(valueOf(key));
      open = -1;
    }
    ended[key] = lower.length;
  }
  for (let key = 0; key < keys; key++) begun[key + 1] = (begun[key] as number) + (starts[key] as number);
  const merged = new Map<number, number>();
  for (let i = 0; i < n; i++) {
    const weight = rows.weight[i] as number;
    if (weight === 0) continue;
    const range =
      (begun[left[i] as number] as number) * (lower.length + 1) + (ended[right[i] as number] as number) - 1;
    merged.set(range, (merged.get(range) ?? 0) + weight);
  }
  const ranges = [...merged.keys()];
  return {
    lower: Float64Array.from(lower),
    upper: Float64Array.from(upper),
    first: Int32Array.from(ranges, range => Math.floor(range / (lower.length + 1))),
    last: Int32Array.from(ranges, range => range % (lower.length + 1)),
    weight: Float64Array.from(merged.values()),
  };
}

/**
 * A whole-number key for every end, ascending as the ends stand: 0 for no lower bound, then three to a time,
 * the last for no upper bound.
 */
function endKeys({ lower, upper }: IntervalRows) {
  const n = lower.length;
  const ends = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    // An unbounded end borrows the row's other end, so that the list holds finite times only.
    const from = lower[i] as number;
    const to = upper[i] as number;
    ends[i] = Number.isFinite(from) ? from : Number.isFinite(to) ? to : 0;
    ends[n + i] = Number.isFinite(to) ? to : (ends[i] as number);
  }
  const { times, place } = distinctTimes(ends);
  const keys = 3 * times.length + 2;
  const left = new Int32Array(n);
  const right = new Int32Array(n);
  for (let i = 0; i < n; i++) {
    const exact = lower[i] === upper[i];
    left[i] = Number.isFinite(lower[i]) ? 1 + 3 * (place[i] as number) + (exact ? 0 : 2) : 0;
    right[i] = Number.isFinite(upper[i]) ? 2 + 3 * (place[n + i] as number) : keys - 1;
  }
  const valueOf = (key: number): number =>
    key === 0
      ? Number.NEGATIVE_INFINITY
      : key === keys - 1
        ? Number.POSITIVE_INFINITY
        : (times[Math.floor((key - 1) / 3)] as number);
  return { left, right, keys, valueOf };
}
