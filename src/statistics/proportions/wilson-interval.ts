import { criticalZ } from '../confidence-level.ts';
import type { IntervalEstimate, LevelOption } from '../confidence-level.ts';
import { requireSuccesses } from './counts.ts';

/**
 * A proportion with its score interval: the chances p for which the observed proportion lies within z standard
 * errors of p, the standard error being that under p. Without continuity correction; the limits stay in 0 to 1,
 * and at 0 or n successes the limit there is exactly 0 or 1.
 *
 * Source: Wilson, JASA 1927;22:209-212; Newcombe, Statistics in Medicine 1998;17:857-872, method 3.
 *
 * @param successes whole number from 0 to n
 * @param n trials, 1 or more
 * @throws StatisticsError `empty`, `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`
 * @example wilsonInterval(44, 379) // { estimate: 0.1161, lower: 0.08763, upper: 0.1523 }
 */
export function wilsonInterval(successes: number, n: number, options: LevelOption = {}): IntervalEstimate {
  requireSuccesses(successes, n);
  const z = criticalZ(options);
  const estimate = successes / n;
  return {
    estimate,
    lower: wilsonLower(successes, n, z),
    upper: 1 - wilsonLower(n - successes, n, z),
  };
}

/** The lower root of the score equation, in the form that does not cancel when it is close to 0. */
function wilsonLower(successes: number, n: number, z: number): number {
  if (successes === 0) return 0;
  const p = successes / n;
  const square = (z * z) / n;
  const root = z * Math.sqrt((p * (1 - p)) / n + square / (4 * n));
  return (p * p) / (p + square / 2 + root);
}
