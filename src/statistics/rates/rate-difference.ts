import { criticalZ } from '../confidence-level.ts';
import type { IntervalEstimate, LevelOption } from '../confidence-level.ts';
import { requireEvents } from './counts.ts';

/**
 * The difference of two Poisson rates, first less second, with the normal interval (variance: events over squared
 * time, summed). Too narrow when events are few; with none in either group it has no width.
 *
 * Source: Rothman, Greenland and Lash, Modern Epidemiology, 3rd edition, chapter 14.
 *
 * @throws StatisticsError `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`
 * @example rateDifference(12, 100, 5, 100).estimate // 0.07
 */
export function rateDifference(
  events1: number,
  time1: number,
  events2: number,
  time2: number,
  options: LevelOption = {},
): IntervalEstimate {
  requireEvents(events1, time1, '1');
  requireEvents(events2, time2, '2');
  const estimate = events1 / time1 - events2 / time2;
  const reach = criticalZ(options) * Math.hypot(Math.sqrt(events1) / time1, Math.sqrt(events2) / time2);
  return { estimate, lower: estimate - reach, upper: estimate + reach };
}
