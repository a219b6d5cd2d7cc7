import { describe, expect, it } from 'vitest';
import { binomialCumulative } from '../../../src/statistics/distributions/binomial.ts';
import { poissonCumulative } from '../../../src/statistics/distributions/poisson.ts';
import {
  cumulativeSum,
  funnelLimits,
  funnelLimitsAt,
  proportionChart,
  rateChart,
} from '../../../src/statistics/control-charts/index.ts';
import { expectClose, frozen } from '../relative.ts';

describe('proportionChart and rateChart', () => {
  it('cut limits at the ends of the range', () => {
    const chart = proportionChart({ events: [0, 1, 0, 2], n: [3, 4, 5, 4] });
    for (const point of chart.points) {
      expect(point.lower).toBe(0);
      expect(point.upper).toBeLessThanOrEqual(1);
    }
    expect(rateChart({ events: [0, 1], time: [2, 3] }).points[0]?.lower).toBe(0);
  });

  it('take a centre from outside, and zone rules on varying limits', () => {
    const n = [100, 400, 100, 400, 100];
    const events = n.map(size => 0.5 * size + 1.2 * Math.sqrt(0.25 * size));
    const chart = proportionChart({ events, n }, { centre: 0.5, rules: 'western-electric' });
    expect(chart.signals.map(signal => [signal.rule, signal.index])).toEqual([
      ['four of five beyond 1 sigma', 4],
    ]);
  });

  it('refuse impossible counts', () => {
    expect(() => proportionChart({ events: [3], n: [2] })).toThrow(/events\[0\] is 3/);
    expect(() => proportionChart({ events: [1], n: [0] })).toThrow(/n\[0\] is 0/);
    expect(() => proportionChart({ events: [1.5], n: [2] })).toThrow(/events\[0\] is 1.5/);
    expect(() => rateChart({ events: [1], time: [-1] })).toThrow(/time\[0\]/);
    expect(() => rateChart({ events: [], time: [] })).toThrow(/events is empty/);
  });
});

describe('funnelLimits', () => {
  it('exact limits interpolate between counts as Spiegelhalter 2005, appendix A.1.1', () => {
    // n = 20, target 0.3, p = 0.975: P(R <= 9) = 0.952, P(R <= 10) = 0.983, so r = 10.
    const limits = funnelLimitsAt(0.3, 20, 'proportion', 0.025);
    const at = (count: number): number => binomialCumulative(count, 20, 0.3);
    expect(at(9)).toBeLessThan(0.975);
    expect(at(10)).toBeGreaterThan(0.975);
    expectClose(limits.upper, (10 - (at(10) - 0.975) / (at(10) - at(9))) / 20);
    // Lower: P(R <= 1) = 0.0076, P(R <= 2) = 0.0355.
    expectClose(limits.lower, (2 - (at(2) - 0.025) / (at(2) - at(1))) / 20);
    const rate = funnelLimitsAt(0.5, 30, 'rate', 0.001);
    const poisson = (count: number): number => poissonCumulative(count, 15);
    const high = Array.from({ length: 60 }, (_, i) => i).find(count => poisson(count) > 0.999) ?? 0;
    expectClose(rate.upper, (high - (poisson(high) - 0.999) / (poisson(high) - poisson(high - 1))) / 30);
  });

  it('exact limits approach the normal ones as units grow', () => {
    const exact = funnelLimitsAt(0.2, 100_000, 'proportion', 0.025);
    expect(exact.upper).toBeCloseTo(0.2 + 1.96 * Math.sqrt(0.16 / 100_000), 4);
    expect(exact.lower).toBeCloseTo(0.2 - 1.96 * Math.sqrt(0.16 / 100_000), 4);
  });

  it('names the units beyond the limits', () => {
    const funnel = funnelLimits(frozen({ events: [10, 40, 10, 33, 0], n: [100, 100, 50, 150, 60] }), {
      target: 0.2,
    });
    expect(funnel.kind).toBe('proportion');
    expect(funnel.signals).toEqual([
      { rule: 'beyond the 95 % limit', index: 0, side: 'below' },
      { rule: 'beyond the 99.8 % limit', index: 1, side: 'above' },
      { rule: 'beyond the 99.8 % limit', index: 4, side: 'below' },
    ]);
    expectClose(funnel.points[1]?.z, (0.4 - 0.2) / Math.sqrt(0.16 / 100));
  });

  it('over-dispersion by hand: four units at 1 and 2 errors either way', () => {
    // Sizes of 100 at a target of 0.5: error 0.05; z = -2, -1, 1, 2; phi = 10/4; tau^2 = (10 - 3) / (3 * 400).
    const data = { events: [40, 45, 55, 60], n: [100, 100, 100, 100] };
    const multiplicative = funnelLimits(data, {
      target: 0.5,
      overDispersion: 'multiplicative',
      winsorised: 0,
    });
    expectClose(multiplicative.dispersion, 2.5);
    expectClose(multiplicative.points[0]?.inner.upper, 0.5 + 1.959963984540054 * 0.05 * Math.sqrt(2.5));
    const additive = funnelLimits(data, { target: 0.5, overDispersion: 'additive', winsorised: 0 });
    expectClose(additive.betweenVariance, 7 / 1200);
    expectClose(additive.points[0]?.outer.upper, 0.5 + 3.090232306167813 * Math.sqrt(0.0025 + 7 / 1200));
    // Pulling in a quarter at each end leaves z = -1, -1, 1, 1.
    expectClose(funnelLimits(data, { target: 0.5, winsorised: 0.25 }).dispersion, 1);
    expect(additive.method).toBe('normal');
  });

  it('under-dispersion never narrows a funnel', () => {
    const data = { events: [50, 51, 49], n: [100, 100, 100] };
    const plain = funnelLimits(data, { target: 0.5, method: 'normal' });
    for (const overDispersion of ['multiplicative', 'additive'] as const) {
      const adjusted = funnelLimits(data, { target: 0.5, overDispersion });
      expect(adjusted.points.map(point => point.outer)).toEqual(plain.points.map(point => point.outer));
    }
  });

  it('one unit, and a target at the end of its range', () => {
    const one = funnelLimits({ events: [3], time: [10] });
    expect(one.points[0]?.z).toBe(0);
    expect(one.betweenVariance).toBe(0);
    expect(() => funnelLimits({ events: [0, 0], n: [4, 5] })).toThrow(/target is 0/);
    expect(() => funnelLimits({ events: [4], n: [4] })).toThrow(/target is 1/);
    expect(() => funnelLimits({ events: [1], n: [4] }, { winsorised: 0.5 })).toThrow(/winsorised/);
  });
});

describe('cumulativeSum by log-likelihood', () => {
  it('adds the log ratio of each outcome, and starts again after a signal', () => {
    const options = {
      method: 'log-likelihood',
      distribution: 'bernoulli',
      acceptable: 0.1,
      unacceptable: 0.2,
      decision: 1.2,
    } as const;
    const chart = cumulativeSum([0, 1, 1, 0, 1], options);
    const up = Math.log(2);
    const down = Math.log(0.8 / 0.9);
    expectClose(
      chart.points.map(point => point.upper),
      [0, up, 2 * up, 0, up],
    );
    expect(chart.signals).toEqual([{ rule: 'upper sum beyond the decision limit', index: 2, since: 1 }]);
    const running = cumulativeSum([0, 1, 1, 0, 1], { ...options, restart: false });
    expectClose(running.points[4]?.upper, 3 * up + down);
  });

  it('finds a fall as well: better than acceptable', () => {
    const chart = cumulativeSum([0, 0, 0], {
      method: 'log-likelihood',
      distribution: 'poisson',
      acceptable: 2,
      unacceptable: 1,
      decision: 2.5,
    });
    expectClose(
      chart.points.map(point => point.upper),
      [1, 2, 3],
    );
    expect(chart.signals.map(signal => signal.index)).toEqual([2]);
  });

  it('a head start signals sooner, and a lower sum counts below the target', () => {
    const values = [8, 8, 8, 8];
    const plain = cumulativeSum(values, { target: 10, sigma: 1 });
    const fast = cumulativeSum(values, { target: 10, sigma: 1, headStart: 0.5 });
    expect(plain.signals[0]).toMatchObject({
      rule: 'lower sum beyond the decision limit',
      index: 3,
      since: 0,
    });
    expect(fast.signals[0]).toMatchObject({ index: 1 });
  });

  it('refuses what makes no chart', () => {
    const options = { method: 'log-likelihood', distribution: 'bernoulli', decision: 2 } as const;
    expect(() => cumulativeSum([1], { ...options, acceptable: 0.1, unacceptable: 0.1 })).toThrow(/equal/);
    expect(() => cumulativeSum([2], { ...options, acceptable: 0.1, unacceptable: 0.2 })).toThrow(
      /value\[0\] is 2/,
    );
    expect(() => cumulativeSum([1], { ...options, acceptable: 0, unacceptable: 0.2 })).toThrow(
      /acceptable is 0/,
    );
    expect(() => cumulativeSum([1], { target: 1, sigma: 0 })).toThrow(/sigma is 0/);
  });
});
