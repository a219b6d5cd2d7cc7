import { criticalZ } from '../confidence-level.ts';
import type { LevelOption, OpenIntervalEstimate } from '../confidence-level.ts';
import { requireSuccesses } from './counts.ts';
import { requireOption } from '../option.ts';

export interface OddsRatioOptions extends LevelOption {
  /** `half` adds one half to each of the four counts first (Haldane, Annals of Human Genetics 1956;20:309-311). */
  readonly correction?: 'none' | 'half';
}

/**
 * The ratio of two independent odds, first over second, with the interval on the log scale (variance of the
 * log: the sum of the four reciprocal counts; Woolf, Annals of Human Genetics 1955;19:251-253).
 *
 * @returns with any count 0 and no correction the limits are undefined, and so is an infinite or 0/0 estimate
 * @throws StatisticsError `empty`, `out-of-range`, `not-a-whole-number`, `unknown-option`, `missing-value`
 * @example oddsRatio(10, 30, 5, 30).estimate // 2.5
 */
export function oddsRatio(
  successes1: number,
  n1: number,
  successes2: number,
  n2: number,
  options: OddsRatioOptions = {},
): OpenIntervalEstimate {
  requireSuccesses(successes1, n1, '1');
  requireSuccesses(successes2, n2, '2');
  const { correction = 'none' } = options;
  requireOption('correction', correction, ['none', 'half']);
  const z = criticalZ(options);
  const add = correction === 'half' ? 0.5 : 0;
  const a = successes1 + add;
  const b = n1 - successes1 + add;
  const c = successes2 + add;
  const d = n2 - successes2 + add;
  const estimate = b * c === 0 ? undefined : (a * d) / (b * c);
  if (estimate === undefined || estimate === 0) return { estimate, lower: undefined, upper: undefined };
  const error = Math.sqrt(1 / a + 1 / b + 1 / c + 1 / d);
  return { estimate, lower: estimate * Math.exp(-z * error), upper: estimate * Math.exp(z * error) };
}
