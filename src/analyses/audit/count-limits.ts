import { binomialQuantile } from '../../statistics/distributions/binomial.ts';

/**
 * The counts of n that are not in the tails of a binomial distribution: count c lies below where P(R <= c) < tail, and
 * above where P(R >= c) <= tail. Whole counts, unlike the smoothed limits that a funnel draws: by those, a small group
 * in which all met a standard would lie outside whatever the centre.
 *
 * @returns the lowest and the highest count within
 */
export function countLimits(
  n: number,
  chance: number,
  tail: number,
): { readonly lower: number; readonly upper: number } {
  return { lower: binomialQuantile(tail, n, chance), upper: binomialQuantile(1 - tail, n, chance) };
}
