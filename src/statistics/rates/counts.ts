import { StatisticsError } from '../errors.ts';
import { requireCount } from '../distributions/counts.ts';
import { requirePositive } from '../distributions/tails.ts';

/**
 * Refuses what is not a number of events in a time at risk.
 *
 * @throws StatisticsError `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`
 */
export function requireEvents(events: number, time: number, suffix = ''): void {
  requireCount(`events${suffix}`, events);
  requirePositive(`time${suffix}`, time);
  if (time < 1e-50 || time > 1e50) {
    throw new StatisticsError('out-of-range', `time${suffix} is ${time}; 1e-50 to 1e50 is needed`);
  }
}
