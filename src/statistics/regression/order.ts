import { ascendingOrder } from '../ascending-order.ts';

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
  if (!whole || range > 4 * n + 1024) {
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
