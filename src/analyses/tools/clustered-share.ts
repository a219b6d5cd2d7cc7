import type { Plan } from '../../plan/plan.ts';
import { normalQuantile } from '../../statistics/distributions/normal.ts';
import { clopperPearsonInterval, wilsonInterval } from '../../statistics/proportions/index.ts';
import { withLimits } from './curves.ts';
import type { OfOneFoot } from './people.ts';

interface Share {
  readonly estimate: number;
  readonly lower?: number;
  readonly upper?: number;
}

/**
 * A share of feet with limits that allow for two feet of one infant being alike: symmetric on the scale of log odds, the
 * variance being the sum over infants of the squared sum of (own value less share) over n squared, times G/(G - 1) for G
 * infants. A share of 0 or 1 has the exact limit of none, or all, of the infants. Where feet count as independent, the
 * score interval. With a single infant there are no limits.
 *
 * @returns undefined without feet
 */
export function clusteredShare<T extends OfOneFoot>(
  items: readonly T[],
  has: (item: T) => boolean,
  plan: Plan,
): Share | undefined {
  const n = items.length;
  if (n === 0) return undefined;
  const hits = items.filter(has).length;
  const estimate = hits / n;
  if (!plan.clustering.byInfant) return wilsonInterval(hits, n, { level: plan.level });
  const sums = new Map<string, number>();
  for (const item of items) {
    sums.set(item.infant, (sums.get(item.infant) ?? 0) + (has(item) ? 1 : 0) - estimate);
  }
  const infants = sums.size;
  if (infants < 2) return { estimate };
  if (hits === 0 || hits === n) return { ...edgeLimits(hits === 0, infants, plan), estimate };
  let squares = 0;
  for (const sum of sums.values()) squares += sum * sum;
  const error = Math.sqrt((squares * infants) / (infants - 1)) / n;
  if (error === 0) return { estimate };
  const reach = (normalQuantile((1 + plan.level) / 2) * error) / (estimate * (1 - estimate));
  const at = (shift: number): number => 1 / (1 + ((1 - estimate) / estimate) * Math.exp(-shift));
  return withLimits(estimate, at(-reach), at(reach));
}

/** Exact limits of a share of 0 or 1 among so many independent units. */
export function edgeLimits(
  none: boolean,
  units: number,
  plan: Plan,
): { readonly lower: number; readonly upper: number } {
  const { lower, upper } = clopperPearsonInterval(none ? 0 : units, units, { level: plan.level });
  return { lower, upper };
}
