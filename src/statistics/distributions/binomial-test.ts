import { binomialCumulative, binomialLogProbability, binomialUpperTail } from './binomial.ts';
import { smallestPassing } from './counts.ts';

/** Counts within this relative distance of the observed one's probability count as equally probable. */
const TIE = 1e-7;

/**
 * Exact two-sided p-value of a binomial count: the total probability of the counts no more probable than the
 * observed one, ties within 1e-7. The far tail's end is found by bisection, as probabilities fall on from the mode.
 */
export function binomialTwoSided(count: number, n: number, p: number): number {
  const limit = binomialLogProbability(count, n, p) + TIE;
  const noMoreProbable = (k: number): boolean => binomialLogProbability(k, n, p) <= limit;
  const mode = Math.min(n, Math.floor((n + 1) * p));
  if (count === mode || noMoreProbable(mode)) return 1;
  if (count < mode) {
    const from = smallestPassing(k => k > n || noMoreProbable(k), mode, n + 1);
    return Math.min(1, binomialCumulative(count, n, p) + binomialUpperTail(from - 1, n, p));
  }
  const below = smallestPassing(k => k > mode || noMoreProbable(mode - k), 0, mode + 1);
  return Math.min(1, binomialUpperTail(count - 1, n, p) + binomialCumulative(mode - below, n, p));
}
