/**
 * The k-th smallest (from 1) of all differences x - y, without forming them: bisection on the value, counting by a
 * walk through both sorted samples, down to neighbouring doubles. Work grows as the sum of the sizes.
 *
 * @param x, y both ascending
 */
export function pairDifference(x: Float64Array, y: Float64Array, k: number): number {
  const m = x.length;
  const n = y.length;
  let low = (x[0] as number) - (y[n - 1] as number);
  let high = (x[m - 1] as number) - (y[0] as number);
  if (countUpTo(x, y, low) >= k) return low;
  // The count at `high` reaches k, the count at `low` does not.
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return high;
    if (countUpTo(x, y, middle) >= k) high = middle;
    else low = middle;
  }
}

function countUpTo(x: Float64Array, y: Float64Array, limit: number): number {
  const n = y.length;
  let count = 0;
  let j = 0;
  for (let i = 0; i < x.length; i++) {
    while (j < n && (x[i] as number) - (y[j] as number) > limit) j++;
    count += n - j;
  }
  return count;
}
