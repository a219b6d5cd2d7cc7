import { criticalZ, tailOutside } from '../confidence-level.ts';
import type { OpenIntervalEstimate } from '../confidence-level.ts';
import { binomialTwoSided } from '../distributions/binomial-test.ts';
import { incompleteBetaInverse } from '../distributions/incomplete-beta.ts';
import { StatisticsError } from '../errors.ts';
import { requireEvents } from './counts.ts';
import type { RateIntervalOptions } from './poisson-rate-interval.ts';

export interface RateRatio extends OpenIntervalEstimate {
  /** Exact conditional two-sided p-value that the rates are equal, whichever interval was asked for. */
  readonly pValue: number;
}

/**
 * The ratio of two Poisson rates, first over second. Given the sum of events, the first count is binomial with
 * chance time1 ratio/(time1 ratio + time2); the exact interval turns that chance's exact limits into ratios, the
 * p-value adds the splits no more probable than the observed one under equal rates. The `log` interval has
 * variance 1/events1 + 1/events2.
 *
 * Source: Przyborowski and Wilenski, Biometrika 1940;31:313-323; Breslow and Day, Statistical Methods in Cancer
 * Research II, 1987, 3.6.
 *
 * @returns an infinite or 0/0 estimate, an infinite upper limit and the `log` limits with a count of 0 are undefined
 * @throws StatisticsError `out-of-range`, `not-a-whole-number`, `missing-value`, `not-finite`, `unknown-option`
 * @example rateRatio(12, 100, 5, 100).estimate // 2.4
 */
export function rateRatio(
  events1: number,
  time1: number,
  events2: number,
  time2: number,
  options: RateIntervalOptions = {},
): RateRatio {
  requireEvents(events1, time1, '1');
  requireEvents(events2, time2, '2');
  const { interval = 'exact' } = options;
  const tail = tailOutside(options);
  const estimate = events2 === 0 ? undefined : events1 / time1 / (events2 / time2);
  const pValue = binomialTwoSided(events1, events1 + events2, time1 / (time1 + time2));
  switch (interval) {
    case 'exact': {
      const odds = (point: { readonly x: number; readonly y: number }): number =>
        (point.x / point.y) * (time2 / time1);
      return {
        estimate,
        lower: events1 === 0 ? 0 : odds(incompleteBetaInverse('lower', tail, events1, events2 + 1)),
        upper: events2 === 0 ? undefined : odds(incompleteBetaInverse('upper', tail, events1 + 1, events2)),
        pValue,
      };
    }
    case 'log': {
      if (estimate === undefined || events1 === 0) {
        return { estimate, lower: undefined, upper: undefined, pValue };
      }
      const reach = criticalZ(options) * Math.sqrt(1 / events1 + 1 / events2);
      return { estimate, lower: estimate * Math.exp(-reach), upper: estimate * Math.exp(reach), pValue };
    }
    default:
      throw new StatisticsError('unknown-option', `interval is ${String(interval)}; allowed: exact, log`);
  }
}
