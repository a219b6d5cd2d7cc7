/**
 * How many ways there are to choose `size` of the given whole-number scores, by their sum: the permutation
 * distribution of a rank sum, ties included when the scores are doubled mid-ranks.
 *
 * @returns counts by sum, from 0; exact below 2^53 and to double precision above
 */
export function subsetSumCounts(scores: readonly number[], size: number): Float64Array {
  const largest = [...scores]
    .sort((a, b) => b - a)
    .slice(0, size)
    .reduce((sum, score) => sum + score, 0);
  const counts = Array.from({ length: size + 1 }, () => new Float64Array(largest + 1));
  (counts[0] as Float64Array)[0] = 1;
  let used = 0;
  let reach = 0;
  for (const score of scores) {
    used += 1;
    reach = Math.min(largest, reach + score);
    for (let chosen = Math.min(size, used); chosen >= 1; chosen--) {
      const here = counts[chosen] as Float64Array;
      const before = counts[chosen - 1] as Float64Array;
      for (let sum = reach; sum >= score; sum--) {
        here[sum] = (here[sum] as number) + (before[sum - score] as number);
      }
    }
  }
  return counts[size] as Float64Array;
}
