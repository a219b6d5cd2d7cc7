import { describe, it } from 'vitest';
import { poissonRateInterval, rateDifference, rateRatio } from '../../../src/statistics/rates/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { expectLimits, expectNear, expectReference } from '../near.ts';

type Limits = readonly (number | string | null)[];
interface OneRate {
  readonly events: number;
  readonly time: number;
  readonly confLevel?: number;
  readonly rate: number;
  readonly exact: Limits;
  readonly log: Limits;
}
interface TwoRates {
  readonly x1: number;
  readonly t1: number;
  readonly x2: number;
  readonly t2: number;
  readonly confLevel: number;
  readonly ratio: number | string | null;
  readonly exactCi: Limits;
  readonly exactP: number;
  readonly logCi: Limits;
  readonly difference: number;
  readonly differenceWald: Limits;
}

// R 4.2.2: poisson.test, and the log interval by hand.
const rates = referenceValues('rates').values as {
  readonly one: readonly OneRate[];
  readonly ratio: readonly TwoRates[];
};
const groups = Object.values(
  referenceValues('exponential-rates').values as Readonly<Record<string, OneRate>>,
);

describe('one rate', () => {
  it.each([...rates.one, ...groups])('$events in $time at $confLevel', row => {
    const level = row.confLevel ?? 0.95;
    const exact = poissonRateInterval(row.events, row.time, { level });
    expectNear(exact.estimate, row.rate, 1e-14);
    expectLimits(exact, row.exact);
    expectLimits(poissonRateInterval(row.events, row.time, { level, interval: 'log' }), row.log);
  });
});

describe('two rates', () => {
  it.each(rates.ratio)('$x1 in $t1 and $x2 in $t2', row => {
    const { x1, t1, x2, t2, confLevel: level } = row;
    const exact = rateRatio(x1, t1, x2, t2, { level });
    expectReference(exact.estimate, row.ratio, 1e-12);
    expectNear(exact.pValue, row.exactP, 1e-11);
    expectLimits(exact, row.exactCi);
    if (x1 > 0 && x2 > 0) expectLimits(rateRatio(x1, t1, x2, t2, { level, interval: 'log' }), row.logCi);
    const difference = rateDifference(x1, t1, x2, t2, { level });
    expectNear(difference.estimate, row.difference, 1e-12);
    expectLimits(difference, row.differenceWald);
  });

  it('agrees on the granulomatous disease trial', () => {
    const {
      events,
      time,
      rateRatio: ratio,
      exactCi,
      exactP,
      logCi,
    } = referenceValues('rates-cgd').values as {
      readonly events: readonly [number, number];
      readonly time: readonly [number, number];
      readonly rateRatio: number;
      readonly exactCi: Limits;
      readonly exactP: number;
      readonly logCi: Limits;
    };
    const result = rateRatio(events[1], time[1], events[0], time[0]);
    expectNear(result.estimate, ratio, 1e-12);
    expectLimits(result, exactCi);
    expectNear(result.pValue, exactP, 1e-11);
    expectLimits(rateRatio(events[1], time[1], events[0], time[0], { interval: 'log' }), logCi);
  });
});
