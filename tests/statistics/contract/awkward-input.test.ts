import { describe, expect, it } from 'vitest';
import * as s from '../../../src/statistics/index.ts';
import { frozen } from '../relative.ts';
import { type Columns, calls, title } from './calls.ts';
import { numbersOf } from './walk.ts';

const labels = ['group', 'strata', 'cluster', 'subject'];

/** A result with its labels taken out, so that only what was computed is compared. */
function computed(result: unknown): number[] {
  return numbersOf(
    JSON.parse(
      JSON.stringify(result, (name, part: unknown) => (name === 'group' ? undefined : part)),
    ) as unknown,
  );
}

describe('legal but awkward input', () => {
  const labelled = calls.flatMap(call =>
    labels.filter(name => name in call.columns).map(name => [title(call), name, call] as const),
  );

  it.each(labelled)('%s: %s as numbers, as text, and as objects’ odd keys give the same', (_, name, call) => {
    // jonckheereTerpstra is told an order of names, which others would not be among.
    if (call.name === 'jonckheereTerpstra') return;
    const values = Array.from(call.columns[name] ?? []);
    const distinct = [...new Set(values)].sort((a, b) => (String(a) < String(b) ? -1 : 1));
    const recoded = (labelsWanted: readonly (string | number)[]): Columns => ({
      ...call.columns,
      [name]: values.map(v => labelsWanted[distinct.indexOf(v)] as string | number),
    });
    const numbers = distinct.map((_label, k) => 10 * k - 5);
    const odd = ['', '0', '__proto__', 'a b', 'constructor', 'e\u0301', 'toString', 'z'].slice(
      0,
      distinct.length,
    );
    // In pairs and by group, labels stand beside numbers; only those without labels in the result are compared whole.
    if (call.name === 'pairwiseLogRank' || call.name === 'dunnTest') {
      expect(numbersOf(call.run(recoded(numbers))).length).toBeGreaterThan(0);
      return;
    }
    const expected = computed(call.run(recoded(numbers)));
    expect(computed(call.run(recoded(odd)))).toEqual(expected);
  });

  it('groups stand in the order asked for, and one in which nobody is is left out or refused by name', () => {
    const data = frozen({ time: [4, 2, 7, 1, 3], event: [1, 1, 0, 1, 1], group: ['b', 'a', 'b', 'c', 'a'] });
    const order = ['c', 'none', 'a', 'b'];
    expect(s.kaplanMeierByGroup(data, { groups: order }).map(g => g.group)).toEqual(['c', 'a', 'b']);
    const test = s.logRankTest(data, { groups: ['c', 'a', 'b'] });
    expect(test.groups.map(g => g.group)).toEqual(['c', 'a', 'b']);
    expect(test.statistic).toBeCloseTo(s.logRankTest(data).statistic, 12);
    expect(() => s.logRankTest(data, { groups: ['a', 'b'] })).toThrow(s.StatisticsError);
  });

  it('one row is a curve', () => {
    expect(s.kaplanMeier({ time: [3], event: [true] })).toMatchObject({ time: [3], survival: [0], n: 1 });
    expect(s.kaplanMeier({ time: [3], event: [false] })).toMatchObject({ time: [3], survival: [1], n: 1 });
    expect(s.survivalQuantile(s.kaplanMeier({ time: [3], event: [1] }), 0.5).estimate).toBe(3);
  });

  it.each(
    calls
      .filter(
        c =>
          'time' in c.columns &&
          'event' in c.columns &&
          !('subject' in c.columns) &&
          c.name !== 'coxResiduals',
      )
      .map(call => [title(call), call] as const),
  )('%s does not depend on the order of the rows', (_, call) => {
    const n = call.columns['time']?.length ?? 0;
    const order = Array.from({ length: n }, (_row, i) => (5 * i + 3) % n);
    const shuffled = Object.fromEntries(
      Object.entries(call.columns).map(([name, values]) => [name, order.map(i => values[i])]),
    ) as Columns;
    const expected = numbersOf(call.run(call.columns));
    const actual = numbersOf(call.run(shuffled));
    expect(actual.length).toBe(expected.length);
    for (const [k, value] of expected.entries()) {
      expect(Math.abs((actual[k] as number) - value)).toBeLessThanOrEqual(
        1e-8 * Math.max(1, Math.abs(value)),
      );
    }
  });
});
