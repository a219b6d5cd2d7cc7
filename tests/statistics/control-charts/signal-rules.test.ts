import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  findSignals,
  individualsChart,
  type RuleSet,
  runChart,
} from '../../../src/statistics/control-charts/index.ts';

const fired = (z: readonly number[], rules: RuleSet): [number, number][] =>
  findSignals(
    z,
    z.map(() => 0),
    z.map(() => 1),
    rules,
  ).map(signal => [signal.number, signal.index]);
const repeat = (value: number, times: number): number[] => Array.from({ length: times }, () => value);

describe('findSignals', () => {
  it('one beyond 3 sigma, in every set; on the limit is within', () => {
    for (const rules of ['shewhart', 'western-electric', 'nelson'] as const) {
      expect(fired([0.5, 3.01, -0.5], rules)).toEqual([[1, 1]]);
      expect(fired([0.5, 3, -0.5], rules)).toEqual([]);
    }
  });

  it('two of three beyond 2 sigma on one side, fired by a point that is itself beyond', () => {
    expect(fired([2.1, 0, 2.2, 0, 0], 'western-electric')).toEqual([[2, 2]]);
    expect(fired([2.1, 0, -2.2], 'western-electric')).toEqual([]);
    expect(fired([2.1, 0, 0.5, 2.2], 'western-electric')).toEqual([]);
    expect(fired([-2.1, -2.1], 'western-electric')).toEqual([]);
    expect(fired([0, -2.1, -2.1], 'nelson')).toEqual([[5, 2]]);
  });

  it('four of five beyond 1 sigma on one side', () => {
    expect(fired([1.1, 1.2, 0, 1.3, 1.1], 'western-electric')).toEqual([[3, 4]]);
    expect(fired([1.1, 1.2, 0, 1.3, -1.1], 'western-electric')).toEqual([]);
    expect(fired([-1.1, -1.2, 0, -1.3, -1.1], 'nelson')).toEqual([[6, 4]]);
  });

  it('eight in a row on one side (Western Electric), nine (Nelson); the centre breaks a run', () => {
    expect(fired(repeat(0.4, 8), 'western-electric')).toEqual([[4, 7]]);
    expect(fired(repeat(0.4, 9), 'western-electric')).toEqual([
      [4, 7],
      [4, 8],
    ]);
    expect(fired(repeat(-0.4, 8), 'nelson')).toEqual([]);
    expect(fired(repeat(-0.4, 9), 'nelson')).toEqual([[2, 8]]);
    expect(fired([...repeat(0.4, 4), 0, ...repeat(0.4, 4)], 'western-electric')).toEqual([]);
  });

  it('six rising or falling; five, or a repeated value, are not', () => {
    expect(fired([-0.9, -0.5, -0.1, 0.3, 0.7, 0.9], 'nelson')).toEqual([[3, 5]]);
    expect(fired([0.9, 0.5, 0.1, -0.3, -0.7, -0.9], 'nelson')).toEqual([[3, 5]]);
    expect(fired([-0.9, -0.5, -0.1, 0.3, 0.7], 'nelson')).toEqual([]);
    expect(fired([-0.9, -0.5, -0.1, -0.1, 0.7, 0.9], 'nelson')).toEqual([]);
  });

  it('fourteen alternating, fifteen within 1 sigma, eight outside it', () => {
    const alternating = Array.from({ length: 14 }, (_, i) => (i % 2 === 0 ? 0.5 : -0.5));
    expect(fired(alternating, 'nelson')).toEqual([[4, 13]]);
    expect(fired(alternating.slice(1), 'nelson')).toEqual([]);
    const calm = [0.2, 0.3, -0.1, -0.2, 0.4, 0.5, -0.3, -0.4, 0.1, 0.2, -0.5, -0.1, 0.3, 0.6, -0.2];
    expect(fired(calm, 'nelson')).toEqual([[7, 14]]);
    const wide = [1.5, 1.2, -1.4, -1.3, 1.6, 1.1, -1.7, 1.2];
    expect(fired(wide, 'nelson')).toEqual([[8, 7]]);
  });

  it('names rule, side and points; each point has its own sigma', () => {
    expect(findSignals([5, 9.2, 9.5], [5, 5, 5], [2, 2, 1.5], 'western-electric')).toEqual([
      {
        rule: 'two of three beyond 2 sigma',
        ruleSet: 'western-electric',
        number: 2,
        index: 2,
        points: [0, 1, 2],
        side: 'above',
      },
    ]);
  });

  it('turned upside down fires the same rules on the other side', () => {
    const series = fc.array(fc.integer({ min: -40, max: 40 }), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(series, drawn => {
        const z = drawn.map(value => value / 10);
        for (const rules of ['shewhart', 'western-electric', 'nelson'] as const) {
          expect(
            fired(
              z.map(value => -value),
              rules,
            ),
          ).toEqual(fired(z, rules));
        }
      }),
      { seed: 2, numRuns: 200 },
    );
  });

  it('refuses an unknown set', () => {
    expect(() => fired([1], 'westgard' as RuleSet)).toThrow(/allowed: shewhart, western-electric, nelson/);
  });
});

describe('individualsChart', () => {
  it('limits from a baseline are not moved by later points', () => {
    const before = [5, 6, 5, 7, 5, 6];
    const chart = individualsChart({ value: [...before, 30] }, { baseline: 6 });
    expect(chart.limits).toEqual(individualsChart(before).limits);
    expect(chart.signals.map(signal => signal.index)).toEqual([6]);
    expect(chart.movingRange.signals).toEqual([6]);
  });

  it('without variation every departure is a signal', () => {
    const chart = individualsChart([4, 4, 4, 5], { baseline: 3 });
    expect(chart.sigma).toBe(0);
    expect(chart.signals).toMatchObject([{ index: 3, side: 'above' }]);
  });

  it('refuses too short a series or baseline', () => {
    expect(() => individualsChart([1])).toThrow(/baseline has 1/);
    expect(() => individualsChart([1, 2, 3], { baseline: 4 })).toThrow(/baseline has 4/);
    expect(() => individualsChart([1, Number.NaN])).toThrow(/value\[1\]/);
  });
});

describe('runChart', () => {
  it('a shift of eight useful points; points on the median are passed over', () => {
    const low = [1, 2, 1, 2, 1, 2, 1, 2];
    const chart = runChart([...low, 5, 9, 8, 9, 8, 5, 9, 8, 9, 8], { median: 5 });
    expect(chart.signals).toEqual([
      { rule: 'shift', index: 7, points: [0, 1, 2, 3, 4, 5, 6, 7], direction: 'down' },
      { rule: 'shift', index: 17, points: [9, 10, 11, 12, 14, 15, 16, 17], direction: 'up' },
    ]);
    expect(chart).toMatchObject({ usefulPoints: 16, runs: 2, longestRun: 8, shift: 8, trend: undefined });
    expect(runChart([...low], { median: 5, shift: 6 }).signals).toMatchObject([{ index: 5 }]);
  });

  it('a trend of five, with a repeated value passed over, only if asked for', () => {
    const values = [1, 2, 3, 3, 4, 5];
    expect(runChart(values).signals).toEqual([]);
    expect(runChart(values, { trend: 5 }).signals).toEqual([
      { rule: 'trend', index: 5, points: [0, 1, 2, 4, 5], direction: 'up' },
    ]);
    expect(runChart(values).centre).toBe(3);
  });
});
