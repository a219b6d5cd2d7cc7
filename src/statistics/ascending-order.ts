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
  return radixOrder(sortableBits(values), order);
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

/**
 * The 16-bit digits move along with the positions: every pass then reads in order, which at a million values
 * is twice as fast as looking the digits up by position.
 */
function radixOrder(bits: Uint16Array, start: Int32Array): Int32Array {
  const n = start.length;
  let low = new Uint32Array(n);
  let high = new Uint32Array(n);
  const halves = new Uint32Array(bits.buffer);
  const top = littleEndian ? 1 : 0;
  for (let i = 0; i < n; i++) {
    low[i] = halves[2 * i + 1 - top] as number;
    high[i] = halves[2 * i + top] as number;
  }
  let order = start;
  let lowNext = new Uint32Array(n);
  let highNext = new Uint32Array(n);
  let orderNext: Int32Array = new Int32Array(n);
  const count = new Int32Array(digit);
  for (let step = 0; step < 4; step++) {
    const keys = step < 2 ? low : high;
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
    for (let i = 0; i < n; i++) {
      const d = ((keys[i] as number) >>> shift) & (digit - 1);
      const to = count[d] as number;
      count[d] = to + 1;
      lowNext[to] = low[i] as number;
      highNext[to] = high[i] as number;
      orderNext[to] = order[i] as number;
    }
    [low, lowNext] = [lowNext, low];
    [high, highNext] = [highNext, high];
    [order, orderNext] = [orderNext, order];
  }
  return order;
}
