import { binomialCumulative, binomialQuantile, binomialUpperTail } from '../distributions/binomial.ts';
import { normalCumulative, normalQuantile } from '../distributions/normal.ts';

/** Points of a p chart, by what is likely where nothing has changed. */
export interface ExactShareScores {
  /** Normal scores: how far out each count lies, in sigma of a normal law that leaves as much beyond. */
  readonly z: Float64Array;
  /** The lowest and the highest share of each point that do not lie beyond 3 sigma. */
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

/** Keeps the side of the centre where a count is no less likely than one in two. */
const LEAST_SCORE = 1e-9;

/**
 * Exact distances of shares from a centre, for the zone rules of a control chart. With P the binomial probability of less
 * than a count and half that of the count itself (mid-P), a count below the centre has the score qnorm(P); one above it,
 * with P from the other side, -qnorm(P). Three sigma is then one in 741 on either side as nearly as whole counts allow,
 * where normal limits of a share near 1 are crossed many times as often.
 *
 * With a design effect d (variance of the share beside that of independent feet; below 1 counts as 1) scores are divided
 * by its root, as the standard error is multiplied by it.
 *
 * Sources: Lancaster, J Am Stat Assoc 1961;56:223-234 (mid-P); Kish, Survey Sampling, 1965, section 8.2 (design effect).
 *
 * @param events how many of n met something, at each point; whole numbers
 * @param centre the share where nothing has changed, from 0 to 1
 * @throws StatisticsError as the binomial distribution does, for counts and a centre that are none
 * @example exactShareScores([30, 20], [36, 36], 0.9).z // [-1.258, -5.301]
 */
export function exactShareScores(
  events: ArrayLike<number>,
  n: ArrayLike<number>,
  centre: number,
  designEffect = 1,
): ExactShareScores {
  const root = Math.sqrt(Math.max(1, designEffect));
  const tail = normalCumulative(-3 * root);
  const z = new Float64Array(events.length);
  const lower = new Float64Array(events.length);
  const upper = new Float64Array(events.length);
  for (let i = 0; i < events.length; i++) {
    const count = events[i] as number;
    const size = n[i] as number;
    const upTo = (k: number): number => midway(k, j => binomialCumulative(j, size, centre));
    const from = (k: number): number => midway(k, j => binomialUpperTail(j, size, centre));
    const share = count / size;
    if (share < centre) z[i] = -Math.max(LEAST_SCORE, scoreOf(upTo(count))) / root;
    if (share > centre) z[i] = Math.max(LEAST_SCORE, scoreOf(from(count))) / root;
    let least = binomialQuantile(tail, size, centre);
    while (upTo(least) <= tail) least += 1;
    let most = binomialQuantile(1 - tail, size, centre);
    while (from(most) <= tail) most -= 1;
    while (from(most + 1) > tail) most += 1;
    lower[i] = least / size;
    upper[i] = most / size;
  }
  return { z, lower, upper };
}

/** The mean of a tail with a count and without it. */
function midway(count: number, tail: (count: number) => number): number {
  return (tail(count - 1) + tail(count)) / 2;
}

/** Sigma beyond which a normal law leaves the probability; what is too small for a double is taken for 38. */
function scoreOf(probability: number): number {
  if (probability <= 0) return 38;
  return probability < 1 ? -normalQuantile(probability) : 0;
}
