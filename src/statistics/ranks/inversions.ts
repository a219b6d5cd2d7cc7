/**
 * Probability that a random order of n different values has at most `limit` inversions: the exact distribution of
 * Kendall's discordant pairs. Built one value at a time: the k-th adds 0 to k - 1 inversions, equally likely.
 */
export function inversionsAtMost(limit: number, n: number): number {
  const most = (n * (n - 1)) / 2;
  if (limit >= most) return 1;
  let chance = Float64Array.of(1);
  for (let k = 2; k <= n; k++) {
    const next = new Float64Array((k * (k - 1)) / 2 + 1);
    let window = 0;
    for (let i = 0; i < next.length; i++) {
      window += chance[i] ?? 0;
      // Only what was added is taken off again, so rounding leaves no more than the last bits of the largest sum.
      if (i >= k) window -= chance[i - k] ?? 0;
      next[i] = window / k;
    }
    chance = next;
  }
  let sum = 0;
  for (let i = 0; i <= limit; i++) sum += chance[i] as number;
  return sum;
}
