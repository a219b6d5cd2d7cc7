const smallest = 2048;
const digit = 0x10000;

/**
 * The positions of the values in ascending order; equal values keep the order they came in.
 * The input holds finite numbers and is left as it is. A radix sort on the bits of the doubles: linear in the
 * number of values, with one pass for every 16 bits in which any two of them differ.
 */
export function ascendingOrder(values: Float64Array): Int32Array {
  const n = values.length;
  const order = new Int32Array(n);
  for (let i = 0; i < n; i++) order[i] = i;
  if (n <= smallest) {
    return order.sort((a, b) => (values[a] as number) - (values[b] as number) || a - b);
  }
  return radixSorted(sortableBits(values), order).carried;
}

/**
 * Bit patterns that order as the numbers do: the sign bit turned for positive values, all bits for negative
 * ones.
 */
function sortableBits(values: Float64Array): Uint16Array {
  const copy = new Float64Array(values.length);
  for (let i = 0; i < copy.length; i++) copy[i] = (values[i] as number) + 0;
  const halves = new Uint32Array(copy.buffer);
  const high = littleEndian ? 1 : 0;
  for (let i = 0; i < copy.length; i++) {
    const top = halves[2 * i + high] as number;
    if (top >>> 31 === 0) halves[2 * i + high] = top ^ 0x80000000;
    else {
      halves[2 * i] = ~(halves[2 * i] as number);
      halves[2 * i + 1] = ~(halves[2 * i + 1] as number);
    }
  }
  return new Uint16Array(copy.buffer);
}

const littleEndian = new Uint16Array(new Uint8Array([1, 0]).buffer)[0] === 1;

/** Doubles as two halves of bits that order as they do, with what is carried along. */
interface Sortable {
  low: Uint32Array;
  high: Uint32Array;
  carried: Int32Array;
}

/** What was carried, in ascending order of the values, and where a value differs from the one before. */
export interface AscendingRuns {
  readonly carried: Int32Array;
  /** 1 where a new value begins. */
  readonly fresh: Uint8Array;
}

/**
 * Sorts integers that belong to the values along with them: as `ascendingOrder`, but what is wanted of each row is
 * at hand in the order of the values, without a far look for every row.
 */
export function ascendingRuns(values: Float64Array, carried: Int32Array): AscendingRuns {
  const n = values.length;
  const fresh = new Uint8Array(n);
  if (n <= smallest) {
    const order = ascendingOrder(values);
    for (let k = 0; k < n; k++) {
      if (k === 0 || values[order[k] as number] !== values[order[k - 1] as number]) fresh[k] = 1;
    }
    return { carried: order.map(row => carried[row] as number), fresh };
  }
  const sorted = radixSorted(sortableBits(values), carried);
  const { low, high } = sorted;
  for (let k = 0; k < n; k++) {
    if (k === 0 || low[k] !== low[k - 1] || high[k] !== high[k - 1]) fresh[k] = 1;
  }
  return { carried: sorted.carried, fresh };
}

/**
 * The 16-bit digits move along with the positions: every pass then reads in order, which at a million values
 * is twice as fast as looking the digits up by position.
 *
 * Values that agree in the upper half of their bits are few unless they are equal, so the two passes over the upper
 * half mostly leave only short runs to be put in order.
 */
function radixSorted(bits: Uint16Array, start: Int32Array): Sortable {
  const n = start.length;
  const sortable = { low: new Uint32Array(n), high: new Uint32Array(n), carried: start };
  const halves = new Uint32Array(bits.buffer);
  const top = littleEndian ? 1 : 0;
  for (let i = 0; i < n; i++) {
    sortable.low[i] = halves[2 * i + 1 - top] as number;
    sortable.high[i] = halves[2 * i + top] as number;
  }
  const spare = { low: new Uint32Array(n), high: new Uint32Array(n), carried: new Int32Array(n) };
  const byHigh = passes(sortable, spare, [2, 3], start);
  if (settled(byHigh.sorted)) return byHigh.sorted;
  return passes(byHigh.sorted, byHigh.spare, [0, 1, 2, 3], start).sorted;
}

/** Stable counting passes over 16-bit digits, 0 the lowest; `input` is not written to. */
function passes(
  from: Sortable,
  to: Sortable,
  digits: readonly number[],
  input: Int32Array,
): { sorted: Sortable; spare: Sortable } {
  const n = from.low.length;
  let source = from;
  let target = to;
  const count = new Int32Array(digit);
  for (const step of digits) {
    const keys = step < 2 ? source.low : source.high;
    const shift = 16 * (step & 1);
    count.fill(0);
    for (let i = 0; i < n; i++) {
      const d = ((keys[i] as number) >>> shift) & (digit - 1);
      count[d] = (count[d] as number) + 1;
    }
    if (count[((keys[0] as number) >>> shift) & (digit - 1)] === n) continue;
    let place = 0;
    for (let d = 0; d < digit; d++) {
      const here = count[d] as number;
      count[d] = place;
      place += here;
    }
    scatter(source, target, keys, shift, count);
    const next = source;
    if (next.carried === input) next.carried = new Int32Array(n);
    source = target;
    target = next;
  }
  return { sorted: source, spare: target };
}

function scatter(from: Sortable, to: Sortable, keys: Uint32Array, shift: number, count: Int32Array): void {
  const { low, high, carried } = from;
  const { low: lowTo, high: highTo, carried: carriedTo } = to;
  for (let i = 0; i < keys.length; i++) {
    const d = ((keys[i] as number) >>> shift) & (digit - 1);
    const at = count[d] as number;
    count[d] = at + 1;
    lowTo[at] = low[i] as number;
    highTo[at] = high[i] as number;
    carriedTo[at] = carried[i] as number;
  }
}

const longestRun = 32;

/** Puts runs of equal upper halves in order by insertion; false, with nothing lost, if one is too long for that. */
function settled({ low, high, carried }: Sortable): boolean {
  const n = low.length;
  for (let from = 0, to = 1; from < n; from = to++) {
    const value = high[from] as number;
    while (to < n && high[to] === value) to++;
    if (to - from === 1) continue;
    let ordered = true;
    for (let k = from + 1; k < to; k++) if ((low[k] as number) < (low[k - 1] as number)) ordered = false;
    if (ordered) continue;
    if (to - from > longestRun) return false;
    for (let k = from + 1; k < to; k++) {
      const key = low[k] as number;
      const row = carried[k] as number;
      let at = k - 1;
      for (; at >= from && (low[at] as number) > key; at--) {
        low[at + 1] = low[at] as number;
        carried[at + 1] = carried[at] as number;
      }
      low[at + 1] = key;
      carried[at + 1] = row;
    }
  }
  return true;
}
