import { ascendingOrder } from '../ascending-order.ts';

/** Pairs ordered one way in x and the other in y, and pairs equal in both. */
export interface PairCounts {
  readonly discordant: number;
  readonly tiedInBoth: number;
}

/**
 * Counts discordant pairs as the exchanges a merge sort of y makes once rows stand in order of x and, within equal
 * x, of y (Knight, JASA 1966;61:436-439).
 */
export function discordantPairs(x: Float64Array, y: Float64Array): PairCounts {
  const n = x.length;
  // Two stable sorts, by y and then by x, leave equal x in order of y.
  const byY = ascendingOrder(y);
  const byX = ascendingOrder(Float64Array.from(byY, row => x[row] as number));
  const inOrder = Int32Array.from(byX, place => byY[place] as number);
  let tiedInBoth = 0;
  let run = 0;
  let from = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const row = inOrder[i] as number;
    from[i] = y[row] as number;
    const before = i === 0 ? -1 : (inOrder[i - 1] as number);
    run = before >= 0 && x[before] === x[row] && y[before] === y[row] ? run + 1 : 0;
    tiedInBoth += run;
  }
  let discordant = 0;
  let to = new Float64Array(n);
  for (let width = 1; width < n; width *= 2) {
    for (let start = 0; start < n; start += 2 * width) {
      const middle = Math.min(start + width, n);
      const end = Math.min(start + 2 * width, n);
      let left = start;
      let right = middle;
      for (let k = start; k < end; k++) {
        if (right >= end || (left < middle && (from[left] as number) <= (from[right] as number))) {
          to[k] = from[left++] as number;
        } else {
          discordant += middle - left;
          to[k] = from[right++] as number;
        }
      }
    }
    [from, to] = [to, from];
  }
  return { discordant, tiedInBoth };
}
