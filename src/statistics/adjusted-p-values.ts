import { finiteColumn } from './columns.ts';
import { StatisticsError } from './errors.ts';

export type PValueAdjustment = 'holm' | 'benjamini-hochberg' | 'none';

/**
 * P-values adjusted for the number of tests, in the order given, each at most 1.
 *
 * - `holm`: the i-th smallest of m times m - i + 1, never below the adjusted value of a smaller one; holds the family-wise error rate.
 * - `benjamini-hochberg`: the i-th smallest times m / i, never above that of a larger one; holds the false discovery rate.
 *
 * @throws StatisticsError `out-of-range` for a value outside 0 to 1, `unknown-option`, and as `finiteColumn`
 * @example adjustedPValues([0.01, 0.04], 'holm') // [0.02, 0.04]
 *
 * Source: Holm, Scand J Stat 1979;6:65-70. Benjamini and Hochberg, J R Stat Soc B 1995;57:289-300.
 */
export function adjustedPValues(pValues: ArrayLike<number>, method: PValueAdjustment): number[] {
  const p = finiteColumn('pValues', pValues);
  for (const [i, value] of p.entries()) {
    if (value < 0 || value > 1) {
      throw new StatisticsError('out-of-range', `pValues[${i}] is ${value}; a number from 0 to 1 is needed`);
    }
  }
  if (method === 'none') return Array.from(p);
  const m = p.length;
  const order = Array.from(p.keys()).sort((a, b) => (p[a] ?? 0) - (p[b] ?? 0));
  const adjusted = new Array<number>(m).fill(1);
  if (method === 'holm') {
    let highest = 0;
    for (const [rank, i] of order.entries()) {
      highest = Math.max(highest, Math.min(1, (m - rank) * (p[i] ?? 0)));
      adjusted[i] = highest;
    }
  } else if (method === 'benjamini-hochberg') {
    let lowest = 1;
    for (let rank = m; rank >= 1; rank--) {
      const i = order[rank - 1] ?? 0;
      lowest = Math.min(lowest, ((p[i] ?? 0) * m) / rank);
      adjusted[i] = lowest;
    }
  } else {
    throw new StatisticsError(
      'unknown-option',
      `adjust is ${String(method)}; allowed: holm, benjamini-hochberg, none`,
    );
  }
  return adjusted;
}
