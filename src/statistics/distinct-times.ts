import { ascendingOrder } from './ascending-order.ts';

/** The distinct values in ascending order, and for every row the place of its value among them. */
export interface DistinctTimes {
  readonly times: Float64Array;
  readonly place: Int32Array;
}

/**
 * Finds the distinct values of a column and where each row stands among them. Values are equal only if they
 * are the same double: nothing is merged, so times should be whole days or otherwise free of rounding.
 * Linear: whole numbers within a moderate range are counted, others sorted by radix.
 */
export function distinctTimes(values: Float64Array): DistinctTimes {
  return countedTimes(values) ?? sortedTimes(values);
}

function countedTimes(values: Float64Array): DistinctTimes | undefined {
  const n = values.length;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const value = values[i] as number;
    if (value !== Math.floor(value)) return undefined;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  const range = high - low + 1;
  if (!(range <= 4 * n + 256)) return undefined;
  const placeOf = new Int32Array(range);
  for (let i = 0; i < n; i++) placeOf[(values[i] as number) - low] = 1;
  let distinct = 0;
  for (let v = 0; v < range; v++) distinct += placeOf[v] as number;
  const times = new Float64Array(distinct);
  let k = 0;
  for (let v = 0; v < range; v++) {
    if (placeOf[v] === 0) continue;
    times[k] = low + v;
    placeOf[v] = k++;
  }
  const place = new Int32Array(n);
  for (let i = 0; i < n; i++) place[i] = placeOf[(values[i] as number) - low] as number;
  return { times, place };
}

function sortedTimes(values: Float64Array): DistinctTimes {
  const n = values.length;
  const order = ascendingOrder(values);
  const found = new Float64Array(n);
  const place = new Int32Array(n);
  let k = -1;
  for (let i = 0; i < n; i++) {
    const row = order[i] as number;
    const value = values[row] as number;
    if (k < 0 || value !== found[k]) found[++k] = value;
    place[row] = k;
  }
  return { times: found.slice(0, k + 1), place };
}

/** The first place whose time is later than the value; the number of times if there is none. */
export function firstLater(times: Float64Array, value: number): number {
  let from = 0;
  let to = times.length;
  while (from < to) {
    const middle = (from + to) >>> 1;
    if ((times[middle] as number) > value) to = middle;
    else from = middle + 1;
  }
  return from;
}

/**
 * Rows in the order of a whole-number key in [0, size), stable: a counting sort. Rows of one key keep the order
 * given, else their own.
 */
export function orderByKey(key: Int32Array, size: number, order?: Int32Array): Int32Array {
  const start = new Int32Array(size + 1);
  for (let i = 0; i < key.length; i++) {
    const k = (key[i] as number) + 1;
    start[k] = (start[k] as number) + 1;
  }
  for (let k = 0; k < size; k++) start[k + 1] = (start[k + 1] as number) + (start[k] as number);
  const arranged = new Int32Array(key.length);
  for (let i = 0; i < key.length; i++) {
    const row = order === undefined ? i : (order[i] as number);
    const k = key[row] as number;
    const at = start[k] as number;
    arranged[at] = row;
    start[k] = at + 1;
  }
  return arranged;
}
