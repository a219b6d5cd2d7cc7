import { describe, expect, it } from 'vitest';
import * as statistics from '../../../src/statistics/index.ts';
import { frozen } from '../relative.ts';
import { type Columns, calls, title } from './calls.ts';
import { numbersOf, unfit } from './walk.ts';

const exported = new Map<string, unknown>(Object.entries(statistics));
const named = calls.map(call => [title(call), call] as const);

describe('every function of the contract', () => {
  it.each(named)('%s is exported and gives the fields promised', (_, call) => {
    expect(exported.get(call.name)).toBeTypeOf('function');
    const result = call.run(frozen(call.columns));
    const parts: unknown[] = Array.isArray(result) ? result : [result];
    expect(parts.length).toBeGreaterThan(0);
    for (const part of parts) {
      const missing = call.fields.filter(field => !(field in (part as object)));
      expect(missing).toEqual([]);
    }
    expect(unfit(result)).toEqual([]);
  });

  it.each(named)('%s takes typed arrays, of single precision too, for plain ones', (_, call) => {
    const plain = numbersOf(call.run(call.columns));
    expect(numbersOf(call.run(recast(call.columns, values => Float64Array.from(values))))).toEqual(plain);
    const single = recast(call.columns, values =>
      values.every(Number.isInteger) ? Float32Array.from(values) : values,
    );
    expect(numbersOf(call.run(single))).toEqual(plain);
  });

  it.each(named.filter(([, call]) => 'event' in call.columns))('%s takes booleans as events', (_, call) => {
    const event = Array.from(call.columns['event'] ?? [], value => value === 1);
    expect(numbersOf(call.run({ ...call.columns, event }))).toEqual(numbersOf(call.run(call.columns)));
  });

  it.each(named.filter(([, call]) => call.run.length > 1))('%s honours the level', (_, call) => {
    const at90 = numbersOf(call.run(call.columns, 0.9));
    const at95 = numbersOf(call.run(call.columns, 0.95));
    expect(numbersOf(call.run(call.columns))).toEqual(at95);
    if (call.name !== 'coxBaselineHazard' && call.name !== 'stateOccupancy')
      expect(at90.length).toBe(at95.length);
    // The limits of this small median jump at the same steps for both levels.
    if (call.name !== 'survivalQuantile') expect(at90).not.toEqual(at95);
    for (const level of [0, 1, 95, Number.NaN, -0.5]) {
      expect(() => call.run(call.columns, level)).toThrow(statistics.StatisticsError);
    }
  });
});

function recast(columns: Columns, to: (values: number[]) => ArrayLike<number>): Columns {
  return Object.fromEntries(
    Object.entries(columns).map(([name, values]) => {
      const list = Array.from(values);
      return [name, list.every(v => typeof v === 'number') ? to(list) : values];
    }),
  );
}
