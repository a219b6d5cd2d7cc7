import type { IntervalEstimate, LevelOption } from '../confidence-level.ts';
import { requireSuccesses } from './counts.ts';
import { wilsonInterval } from './wilson-interval.ts';

/**
 * The difference of two independent proportions, first less second, with the hybrid score interval: the
 * distances from each proportion to its Wilson limits, added as squares.
 *
 * Source: Newcombe, Statistics in Medicine 1998;17:873-890, method 10.
 *
 * @throws StatisticsError `empty`, `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`
 * @example newcombeDifference(56, 70, 48, 80) // { estimate: 0.2, lower: 0.05243, upper: 0.3339 }
 */
export function newcombeDifference(
  successes1: number,
  n1: number,
  successes2: number,
  n2: number,
  options: LevelOption = {},
): IntervalEstimate {
  requireSuccesses(successes1, n1, '1');
  requireSuccesses(successes2, n2, '2');
  const first = wilsonInterval(successes1, n1, options);
  const second = wilsonInterval(successes2, n2, options);
  const estimate = first.estimate - second.estimate;
  return {
    estimate,
    lower: Math.max(-1, estimate - Math.hypot(first.estimate - first.lower, second.upper - second.estimate)),
    upper: Math.min(1, estimate + Math.hypot(first.upper - first.estimate, second.estimate - second.lower)),
  };
}
