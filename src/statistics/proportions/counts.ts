import { requireCount } from '../distributions/counts.ts';
import { StatisticsError } from '../errors.ts';

/**
 * Refuses what is not a number of successes among a number of trials.
 *
 * @throws StatisticsError `empty` if n is 0, `out-of-range` if negative or more successes than trials,
 *   `not-a-whole-number`, `missing-value`, `not-finite`
 */
export function requireSuccesses(successes: number, n: number, suffix = ''): void {
  requireCount(`successes${suffix}`, successes);
  requireCount(`n${suffix}`, n);
  if (n === 0) throw new StatisticsError('empty', `n${suffix} is 0; at least one trial is needed`);
  if (successes > n) {
    throw new StatisticsError(
      'out-of-range',
      `successes${suffix} is ${successes}, more than n${suffix}, ${n}`,
    );
  }
}
