import { criticalZ, tailOutside } from '../confidence-level.ts';
import type { LevelOption, OpenIntervalEstimate } from '../confidence-level.ts';
import { gammaQuantile, gammaQuantileUpper } from '../distributions/gamma.ts';
import { StatisticsError } from '../errors.ts';
import { requireEvents } from './counts.ts';

export interface RateIntervalOptions extends LevelOption {
  /** `exact` (default) from the Poisson tails; `log` by normal approximation of the log rate. */
  readonly interval?: 'exact' | 'log';
}

export interface RateInterval extends OpenIntervalEstimate {
  readonly estimate: number;
}

/**
 * A rate (events over time at risk, in events per unit of that time) with its interval. The exact limits are the
 * rates under which a Poisson tail from the observed count on is (1 - level)/2; with no events the lower is 0.
 *
 * Source: Garwood, Biometrika 1936;28:437-442.
 *
 * @param events whole number of 0 or more
 * @param time total time at risk, above 0
 * @returns limits are undefined only for the `log` interval of no events
 * @throws StatisticsError `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`, `unknown-option`
 * @example poissonRateInterval(5, 100) // { estimate: 0.05, lower: 0.01623, upper: 0.1167 }
 */
export function poissonRateInterval(
  events: number,
  time: number,
  options: RateIntervalOptions = {},
): RateInterval {
  requireEvents(events, time);
  const { interval = 'exact' } = options;
  const estimate = (events + 0) / time;
  switch (interval) {
    case 'exact': {
      const tail = tailOutside(options);
      return {
        estimate,
        lower: events === 0 ? 0 : gammaQuantile(tail, events) / time,
        upper: gammaQuantileUpper(tail, events + 1) / time,
      };
    }
    case 'log': {
      const reach = criticalZ(options) / Math.sqrt(events);
      if (events === 0) return { estimate, lower: undefined, upper: undefined };
      return { estimate, lower: estimate * Math.exp(-reach), upper: estimate * Math.exp(reach) };
    }
    default:
      throw new StatisticsError('unknown-option', `interval is ${String(interval)}; allowed: exact, log`);
  }
}
