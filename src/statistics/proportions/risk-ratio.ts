import { criticalZ } from '../confidence-level.ts';
import type { LevelOption, OpenIntervalEstimate } from '../confidence-level.ts';
import { requireSuccesses } from './counts.ts';

/**
 * The ratio of two independent proportions, first over second, with the interval on the log scale (variance of
 * the log: 1/x1 - 1/n1 + 1/x2 - 1/n2).
 *
 * Source: Katz, Baptista, Azen and Pike, Biometrics 1978;34:469-474.
 *
 * @returns the limits are undefined if either group has no success; the estimate too if the second has none
 * @throws StatisticsError `empty`, `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`
 * @example riskRatio(10, 30, 5, 30).estimate // 2
 */
export function riskRatio(
  successes1: number,
  n1: number,
  successes2: number,
  n2: number,
  options: LevelOption = {},
): OpenIntervalEstimate {
  requireSuccesses(successes1, n1, '1');
  requireSuccesses(successes2, n2, '2');
  const z = criticalZ(options);
  if (successes2 === 0) return { estimate: undefined, lower: undefined, upper: undefined };
  const estimate = successes1 / n1 / (successes2 / n2);
  if (successes1 === 0) return { estimate, lower: undefined, upper: undefined };
  const error = Math.sqrt((n1 - successes1) / (successes1 * n1) + (n2 - successes2) / (successes2 * n2));
  return { estimate, lower: estimate * Math.exp(-z * error), upper: estimate * Math.exp(z * error) };
}
