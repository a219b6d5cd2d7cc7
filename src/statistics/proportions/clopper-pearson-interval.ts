import { tailOutside } from '../confidence-level.ts';
import type { IntervalEstimate, LevelOption } from '../confidence-level.ts';
import { betaQuantile, betaQuantileUpper } from '../distributions/beta.ts';
import { requireSuccesses } from './counts.ts';

/**
 * A proportion with its exact interval: the chances under which neither binomial tail from the observed count
 * on falls below (1 - level)/2, as beta quantiles. It covers at least at its level, usually more.
 *
 * Source: Clopper and Pearson, Biometrika 1934;26:404-413.
 *
 * @throws StatisticsError `empty`, `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`
 * @example clopperPearsonInterval(1, 29) // { estimate: 0.03448, lower: 0.0008726, upper: 0.1776 }
 */
export function clopperPearsonInterval(
  successes: number,
  n: number,
  options: LevelOption = {},
): IntervalEstimate {
  requireSuccesses(successes, n);
  const tail = tailOutside(options);
  const failures = n - successes;
  return {
    estimate: successes / n,
    lower: successes === 0 ? 0 : betaQuantile(tail, successes, failures + 1),
    upper: failures === 0 ? 1 : betaQuantileUpper(tail, successes + 1, failures),
  };
}
