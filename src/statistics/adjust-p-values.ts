import { StatisticsError } from './errors.ts';

export type PValueAdjustment = 'holm' | 'benjamini-hochberg' | 'bonferroni' | 'none';

/**
 * P-values adjusted for the number of tests made, in the order given.
 *
 * `holm` steps down and controls the chance of any false finding (Holm, Scandinavian Journal of Statistics
 * 1979;6:65-70); `bonferroni` multiplies by the number of tests; `benjamini-hochberg` steps up and controls the
 * share of false findings (Benjamini and Hochberg, JRSS B 1995;57:289-300). Adjusted values never exceed 1
 * and keep the order of the raw ones.
 *
 * @throws StatisticsError `out-of-range` for a value outside 0 to 1, `missing-value`, `unknown-option`
 * @example adjustPValues([0.01, 0.02, 0.04], 'holm') // [0.03, 0.04, 0.04]
 */
export function adjustPValues(pValues: ArrayLike<number>, method: PValueAdjustment = 'holm'): number[] {
  const raw = Array.from(pValues);
  const m = raw.length;
  for (const [i, p] of raw.entries()) {
    if (typeof p !== 'number' || Number.isNaN(p)) {
      throw new StatisticsError('missing-value', `pValues[${i}] is missing; a number from 0 to 1 is needed`);
    }
    if (p < 0 || p > 1) {
      throw new StatisticsError('out-of-range', `pValues[${i}] is ${p}; a number from 0 to 1 is needed`);
    }
  }
  switch (method) {
    case 'none':
      return raw;
    case 'bonferroni':
      return raw.map(p => Math.min(1, m * p));
    case 'holm': {
      const adjusted = raw.map(() => 0);
      let running = 0;
      for (const [rank, i] of ranked(raw).entries()) {
        running = Math.max(running, Math.min(1, (m - rank) * (raw[i] ?? 1)));
        adjusted[i] = running;
      }
      return adjusted;
    }
    case 'benjamini-hochberg': {
      const adjusted = raw.map(() => 0);
      let running = 1;
      const order = ranked(raw);
      for (let rank = m; rank >= 1; rank--) {
        const i = order[rank - 1] ?? 0;
        running = Math.min(running, (m / rank) * (raw[i] ?? 1));
        adjusted[i] = running;
      }
      return adjusted;
    }
    default:
      throw new StatisticsError(
        'unknown-option',
        `method is ${String(method)}; allowed: holm, benjamini-hochberg, bonferroni, none`,
      );
  }
}

/** Positions from the smallest p-value to the largest. */
function ranked(pValues: readonly number[]): number[] {
  return pValues.map((_, i) => i).sort((a, b) => (pValues[a] ?? 0) - (pValues[b] ?? 0));
}
