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

function radixOrder(bits: Uint16Array, start: Int32Array): Int32Array {
  const n = start.length;
  let from: Int32Array = start;
  let to: Int32Array = new Int32Array(n);
  const count = new Int32Array(digit);
  for (let step = 0; step < 4; step++) {
    const offset = littleEndian ? step : 3 - step;
    count.fill(0);
    for (let i = 0; i < n; i++) {
      const d = bits[4 * i + offset] as number;
      count[d] = (count[d] as number) + 1;
    }
    if (count[bits[offset] as number] === n) continue;
    let place = 0;
    for (let d = 0; d < digit; d++) {
      const here = count[d] as number;
      count[d] = place;
      place += here;
    }
    for (let i = 0; i < n; i++) {
      const row = from[i] as number;
      const d = bits[4 * row + offset] as number;
      to[count[d] as number] = row;
      count[d] = (count[d] as number) + 1;
    }
    [from, to] = [to, from];
  }
  return from;
}
