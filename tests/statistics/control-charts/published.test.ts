import { describe, expect, it } from 'vitest';
import {
  cumulativeSum,
  individualsChart,
  proportionChart,
  rateChart,
} from '../../../src/statistics/control-charts/index.ts';
import {
  RANGE_MEAN_OF_TWO,
  RANGE_UPPER_OF_TWO,
} from '../../../src/statistics/control-charts/individuals-chart.ts';
import { frozen } from '../relative.ts';

// Worked examples of Montgomery, Introduction to Statistical Quality Control, 6th ed.; data and printed results set
// down from memory. Each printed result agrees with its data to the digits printed, which a slip would spoil.

describe('published examples', () => {
  it('individuals: viscosity of aircraft primer paint (example 6.5)', () => {
    const chart = individualsChart(
      frozen([
        33.75, 33.05, 34.0, 33.81, 33.46, 34.02, 33.68, 33.27, 33.49, 33.2, 33.62, 33.0, 33.54, 33.12, 33.84,
      ]),
    );
    expect(chart.centre).toBeCloseTo(33.52, 2);
    expect(chart.movingRange.centre).toBeCloseTo(0.48, 2);
    expect(chart.limits?.upper).toBeCloseTo(34.8, 1);
    expect(chart.limits?.lower).toBeCloseTo(32.24, 1);
    expect(chart.movingRange.upper).toBeCloseTo(1.57, 2);
    expect(chart.signals).toEqual([]);
    expect(chart.movingRange.points).toHaveLength(14);
  });

  it('proportion: orange juice cans, thirty samples of 50 (example 7.1)', () => {
    const events = [
      12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9,
      6,
    ];
    const chart = proportionChart(frozen({ events, n: events.map(() => 50) }));
    expect(chart.centre).toBeCloseTo(347 / 1500, 12);
    expect(chart.limits?.upper).toBeCloseTo(0.4102, 4);
    expect(chart.limits?.lower).toBeCloseTo(0.0524, 4);
    expect(chart.signals.map(signal => signal.index + 1)).toEqual([15, 23]);
  });

  it('proportion with varying size: purchase orders (table 7.4)', () => {
    const n = [
      100, 80, 80, 100, 110, 110, 100, 100, 90, 90, 110, 120, 120, 120, 110, 80, 80, 80, 90, 100, 100, 100,
      100, 90, 90,
    ];
    const events = [12, 8, 6, 9, 10, 12, 11, 16, 10, 6, 20, 15, 9, 8, 6, 8, 10, 7, 5, 8, 5, 8, 10, 6, 9];
    const chart = proportionChart(frozen({ events, n }));
    expect(chart.centre).toBeCloseTo(0.0955, 3);
    expect(chart.limits).toBeUndefined();
    expect(chart.points[0]?.upper).toBeCloseTo(0.184, 3);
    expect(chart.points[1]?.upper).toBeCloseTo(0.194, 3);
    expect(chart.signals.map(signal => signal.index + 1)).toEqual([11]);
  });

  it('rate with varying time: defects in dyed cloth (table 7.11)', () => {
    const chart = rateChart(
      frozen({
        events: [14, 12, 20, 11, 7, 10, 21, 16, 19, 23],
        time: [10, 8, 13, 10, 9.5, 10, 12, 10.5, 12, 12.5],
      }),
    );
    expect(chart.centre).toBeCloseTo(1.42, 2);
    // Printed from the rounded rate of 1.42.
    expect(Math.abs((chart.points[0]?.upper ?? 0) - 2.55)).toBeLessThan(0.0055);
    expect(chart.points[0]?.lower).toBeCloseTo(0.29, 2);
    expect(chart.signals).toEqual([]);
  });

  it('tabular cumulative sum: a shift of one sigma after the twentieth value (example 9.1)', () => {
    const chart = cumulativeSum(
      frozen([
        9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.2, 10.34, 9.03, 11.47, 10.51, 9.4, 10.08, 9.37,
        10.62, 10.31, 8.52, 10.84, 10.9, 9.33, 12.29, 11.5, 10.6, 11.08, 10.38, 11.62, 11.31, 10.52,
      ]),
      { target: 10, sigma: 1 },
    );
    expect(chart.limits.upper).toBe(5);
    expect(chart.points[28]?.upper).toBeCloseTo(5.28, 10);
    expect(chart.points[29]?.upper).toBeCloseTo(5.3, 10);
    expect(chart.signals[0]).toEqual({ rule: 'upper sum beyond the decision limit', index: 28, since: 22 });
    expect(chart.points[28]?.upperRun).toBe(7);
  });

  it('constants for ranges of two agree with their closed forms to the digits published', () => {
    // E|X - Y| = 2/sqrt(pi); the range's standard deviation is sqrt(2 - 4/pi).
    const mean = 2 / Math.sqrt(Math.PI);
    expect(RANGE_MEAN_OF_TWO).toBeCloseTo(mean, 3);
    expect(RANGE_UPPER_OF_TWO).toBeCloseTo(1 + (3 * Math.sqrt(2 - 4 / Math.PI)) / mean, 2);
    expect(3 / RANGE_MEAN_OF_TWO).toBeCloseTo(2.66, 2);
  });
});
