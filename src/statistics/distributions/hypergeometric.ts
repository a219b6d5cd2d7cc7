import { StatisticsError } from '../errors.ts';
import { binomialLogProbability } from './binomial.ts';
import { requireCount, REACHED } from './counts.ts';
import { ALL_ABOVE, ALL_BELOW, requireProbability, tailsFromLogLower, tailsFromLogUpper } from './tails.ts';
import type { Tails } from './tails.ts';

/** Draws without replacement: `draws` from a population of `size` of which `marked` are marked. */
export interface Urn {
  readonly size: number;
  readonly marked: number;
  readonly draws: number;
}

/**
 * Probability that `count` or fewer of the drawn are marked.
 *
 * @example hypergeometricCumulative(1, { size: 8, marked: 4, draws: 4 }) // 0.2429
 */
export function hypergeometricCumulative(count: number, urn: Urn): number {
  return tails(count, urn).lower;
}

/**
 * Probability that more than `count` of the drawn are marked, summed outwards from the smaller tail by the ratio
 * of neighbouring probabilities, so that it keeps its relative accuracy.
 *
 * @throws StatisticsError `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`
 * @example hypergeometricUpperTail(3, { size: 8, marked: 4, draws: 4 }) // 0.01429
 */
export function hypergeometricUpperTail(count: number, urn: Urn): number {
  return tails(count, urn).upper;
}

/**
 * Natural logarithm of the lower tail.
 *
 * @example hypergeometricLogCumulative(0, { size: 800, marked: 400, draws: 400 }) // -550.9
 */
export function hypergeometricLogCumulative(count: number, urn: Urn): number {
  return tails(count, urn).logLower;
}

/**
 * Natural logarithm of the upper tail.
 *
 * @example hypergeometricLogUpperTail(399, { size: 800, marked: 400, draws: 400 }) // -550.9
 */
export function hypergeometricLogUpperTail(count: number, urn: Urn): number {
  return tails(count, urn).logUpper;
}

/**
 * Natural logarithm of the probability that exactly `count` of the drawn are marked.
 *
 * @example Math.exp(hypergeometricLogProbability(2, { size: 8, marked: 4, draws: 4 })) // 0.5143
 */
export function hypergeometricLogProbability(count: number, urn: Urn): number {
  const { size, marked, draws } = urn;
  if (count < leastMarked(urn) || count > mostMarked(urn)) return Number.NEGATIVE_INFINITY;
  if (draws === 0 || draws === size) return 0;
  const p = draws / size;
  const q = (size - draws) / size;
  return (
    binomialLogProbability(count, marked, p, q) +
    binomialLogProbability(draws - count, size - marked, p, q) -
    binomialLogProbability(draws, size, p, q)
  );
}

/**
 * The smallest count whose cumulative probability reaches p.
 *
 * @example hypergeometricQuantile(0.5, { size: 8, marked: 4, draws: 4 }) // 2
 */
export function hypergeometricQuantile(p: number, urn: Urn): number {
  requireProbability('p', p);
  requireUrn(urn);
  let low = leastMarked(urn) - 1;
  let high = mostMarked(urn);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    const { lower, upper } = tails(middle, urn);
    const reached = p <= 0.5 ? lower >= p * REACHED : upper <= (1 - p) / REACHED;
    if (reached) high = middle;
    else low = middle;
  }
  return high;
}

export function leastMarked({ size, marked, draws }: Urn): number {
  return Math.max(0, draws - (size - marked));
}

export function mostMarked({ marked, draws }: Urn): number {
  return Math.min(marked, draws);
}

/** @throws StatisticsError if the counts are not whole, or more are marked or drawn than there are */
export function requireUrn({ size, marked, draws }: Urn): void {
  requireCount('size', size);
  requireCount('marked', marked);
  requireCount('draws', draws);
  if (marked > size || draws > size) {
    throw new StatisticsError(
      'out-of-range',
      `marked is ${marked} and draws is ${draws}; neither may exceed size, ${size}`,
    );
  }
}

function tails(count: number, urn: Urn): Tails {
  requireUrn(urn);
  const least = leastMarked(urn);
  const most = mostMarked(urn);
  if (count < least) return ALL_ABOVE;
  if (count >= most) return ALL_BELOW;
  requireCount('count', count);
  const { size, marked, draws } = urn;
  const mean = (draws / size) * marked;
  if (count < mean) {
    let term = 1;
    let sum = 1;
    for (let k = count; k > least && term > sum * 1e-18; k--) {
      term *= (k * (size - marked - draws + k)) / ((marked - k + 1) * (draws - k + 1));
      sum += term;
    }
    return tailsFromLogLower(hypergeometricLogProbability(count, urn) + Math.log(sum));
  }
  let term = 1;
  let sum = 1;
  for (let k = count + 1; k < most && term > sum * 1e-18; k++) {
    term *= ((marked - k) * (draws - k)) / ((k + 1) * (size - marked - draws + k + 1));
    sum += term;
  }
  return tailsFromLogUpper(hypergeometricLogProbability(count + 1, urn) + Math.log(sum));
}
