/**
 * The stable ascending order of finite numbers: `order[k]` is the position of the k-th smallest, equal
 * values in the order they came. Radix sort on the bits of the double, 16 at a time, so that a million
 * values take tens of milliseconds; a digit shared by all values costs nothing.
 */
export function ascendingOrder(values: Float64Array): Int32Array {
  const n = values.length;
  let low = new Uint32Array(n);
  let high = new Uint32Array(n);
  let order = new Int32Array(n);
  const counts = [0, 1, 2, 3].map(() => new Int32Array(65_536)) as [
    Int32Array,
    Int32Array,
    Int32Array,
    Int32Array,
  ];
  const [count0, count1, count2, count3] = counts;
  const cell = new Float64Array(1);
  const bits = new Uint32Array(cell.buffer);
  for (let i = 0; i < n; i++) {
    cell[0] = (values[i] as number) + 0; // turns -0 into 0, which must tie with it
    let lo = bits[0] as number;
    let hi = bits[1] as number;
    // Negative doubles order backwards by their bits; positive ones come after them.
    if (hi & 0x8000_0000) {
      lo = ~lo >>> 0;
      hi = ~hi >>> 0;
    } else hi = (hi | 0x8000_0000) >>> 0;
    low[i] = lo;
    high[i] = hi;
    order[i] = i;
    const a = lo & 0xffff;
    const b = lo >>> 16;
    const c = hi & 0xffff;
    const d = hi >>> 16;
    count0[a] = (count0[a] as number) + 1;
    count1[b] = (count1[b] as number) + 1;
    count2[c] = (count2[c] as number) + 1;
    count3[d] = (count3[d] as number) + 1;
  }
  let lowNext = new Uint32Array(n);
  let highNext = new Uint32Array(n);
  let orderNext = new Int32Array(n);
  for (let pass = 0; pass < 4; pass++) {
    const count = counts[pass] as Int32Array;
    const shift = (pass & 1) * 16;
    const source = pass < 2 ? low : high;
    if (n === 0 || count[((source[0] as number) >>> shift) & 0xffff] === n) continue;
    let total = 0;
    for (let digit = 0; digit < 65_536; digit++) {
      const here = count[digit] as number;
      count[digit] = total;
      total += here;
    }
    for (let i = 0; i < n; i++) {
      const digit = ((source[i] as number) >>> shift) & 0xffff;
      const to = count[digit] as number;
      count[digit] = to + 1;
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

/** A stable rearrangement of an order so that the codes 0, 1, ... k - 1 of its rows ascend. */
export function orderByCode(order: Int32Array, codes: Int32Array, k: number): Int32Array {
  const next = new Int32Array(k + 1);
  for (let i = 0; i < order.length; i++) {
    const code = (codes[order[i] as number] as number) + 1;
    next[code] = (next[code] as number) + 1;
  }
  for (let c = 0; c < k; c++) next[c + 1] = (next[c + 1] as number) + (next[c] as number);
  const arranged = new Int32Array(order.length);
  for (let i = 0; i < order.length; i++) {
    const row = order[i] as number;
    const code = codes[row] as number;
    const to = next[code] as number;
    next[code] = to + 1;
    arranged[to] = row;
  }
  return arranged;
}

/** The stable descending order; whole numbers of a small range, as days are, take a single counting pass. */
export function descendingOrder(values: Float64Array): Int32Array {
  const n = values.length;
  let least = Infinity;
  let most = -Infinity;
  let whole = true;
  for (let i = 0; i < n && whole; i++) {
    const value = values[i] as number;
    if (value < least) least = value;
    if (value > most) most = value;
    whole = Math.trunc(value) === value;
  }
  const range = most - least + 1;
  if (!whole || range > Math.max(65_536, n / 4)) {
    const negative = new Float64Array(n);
    for (let i = 0; i < n; i++) negative[i] = -(values[i] as number);
    return ascendingOrder(negative);
  }
  const next = new Int32Array(range + 1);
  for (let i = 0; i < n; i++) {
    const digit = most - (values[i] as number) + 1;
    next[digit] = (next[digit] as number) + 1;
  }
  for (let digit = 0; digit < range; digit++)
    next[digit + 1] = (next[digit + 1] as number) + (next[digit] as number);
  const order = new Int32Array(n);
  for (let i = 0; i < n; i++) {
    const digit = most - (values[i] as number);
    const to = next[digit] as number;
    next[digit] = to + 1;
    order[to] = i;
  }
  return order;
}
