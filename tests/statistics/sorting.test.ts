import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ascendingOrder, ascendingRuns } from '../../src/statistics/ascending-order.ts';
import { distinctTimes, firstLater, orderByKey } from '../../src/statistics/distinct-times.ts';

function expectOrdered(values: Float64Array): void {
  const order = ascendingOrder(values);
  expect(new Set(order).size).toBe(values.length);
  for (let i = 1; i < order.length; i++) {
    const [before, here] = [order[i - 1] ?? 0, order[i] ?? 0];
    const [a, b] = [values[before] ?? 0, values[here] ?? 0];
    expect(a < b || (a === b && before < here)).toBe(true);
  }
}

describe('ascending order', () => {
  it('is stable and complete for short lists', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ noNaN: true, noDefaultInfinity: true })), values => {
        expectOrdered(Float64Array.from(values, v => v + 0));
      }),
      { seed: 3, numRuns: 100 },
    );
  });

  it('is stable and complete for long lists, whose bits are sorted: signs, zeros of both signs, ties, tiny and huge values', () => {
    let state = 1;
    const next = () => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return state / 2 ** 32;
    };
    const odd = [0, -0, 5e-324, -5e-324, 1.7e308, -1.7e308, 1, -1];
    const values = Float64Array.from({ length: 6_000 }, (_, i) =>
      i % 5 === 0 ? (odd[i % 8] ?? 0) : (next() - 0.5) * 10 ** Math.floor(next() * 20 - 10),
    );
    expectOrdered(values);
    expectOrdered(values.map(v => Math.round(v)));
  });

  it('is stable and complete for long lists whose values agree in the upper half of their bits', () => {
    // Runs short enough for insertion, and runs too long for it; each with ties.
    for (const length of [4, 40, 3_000]) {
      const values = Float64Array.from(
        { length: 3_000 },
        (_, i) => 1 + Math.floor(i / length) + ((i * 7) % 11) * 2 ** -45,
      );
      expectOrdered(values);
      expectOrdered(values.map(v => -v));
    }
    expectOrdered(new Float64Array(3_000).fill(0.1));
  });

  it('carries integers along and tells where new values begin', () => {
    for (const length of [12, 2_500]) {
      const values = Float64Array.from({ length }, (_, i) => ((i * 5) % 7) - 3 + ((i % 3) * 2 ** -40) / 4);
      const carried = Int32Array.from({ length }, (_, i) => 10 * i);
      const before = carried.slice();
      const order = ascendingOrder(values);
      const runs = ascendingRuns(values, carried);
      expect(carried).toEqual(before);
      expect(Array.from(runs.carried)).toEqual(Array.from(order, row => 10 * row));
      const begins = Array.from(order, (row, k) =>
        k === 0 || values[row] !== values[order[k - 1] ?? 0] ? 1 : 0,
      );
      expect(Array.from(runs.fresh)).toEqual(begins);
    }
  });
});

describe('distinct times', () => {
  it('gives the same places by counting and by sorting', () => {
    const days = Float64Array.from([30, 7, 7, 0, 30, 12]);
    expect(Array.from(distinctTimes(days).times)).toEqual([0, 7, 12, 30]);
    expect(Array.from(distinctTimes(days).place)).toEqual([3, 1, 1, 0, 3, 2]);
    const weeks = distinctTimes(days.map(day => day / 7));
    expect(Array.from(weeks.place)).toEqual([3, 1, 1, 0, 3, 2]);
    const far = distinctTimes(days.map(day => day * 1e12));
    expect(Array.from(far.place)).toEqual([3, 1, 1, 0, 3, 2]);
  });

  it('finds the first later time', () => {
    const times = Float64Array.from([1, 4, 9]);
    expect([0, 1, 3, 4, 9, 10].map(t => firstLater(times, t))).toEqual([0, 1, 1, 2, 3, 3]);
  });

  it('orders rows by key, rows of one key as they came', () => {
    expect(Array.from(orderByKey(Int32Array.from([2, 0, 2, 1, 0]), 3))).toEqual([1, 4, 3, 0, 2]);
  });
});
