import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kaplanMeier, kaplanMeierByGroup, StatisticsError } from '../../../src/statistics/index.ts';
import { frozen } from '../relative.ts';

// Whole days in few groups are counted in a table; one group at a time is always sorted into risk sets.
const rows = (labels: readonly (string | number)[], latest: number) =>
  fc.array(
    fc.record({
      time: fc.integer({ min: 0, max: latest }),
      event: fc.constantFrom<number | boolean>(0, 1, true, false),
      group: fc.constantFrom(...labels),
    }),
    { minLength: 1, maxLength: 60 },
  );

describe('Kaplan-Meier by group, counted by whole days', () => {
  it.each([
    ['few groups', ['b', 'a', 'c'], 12],
    ['labels of two kinds', [2, '2', 10, 1], 12],
    ['nine groups, too many for the table', [9, 8, 7, 6, 5, 4, 3, 2, 1], 12],
    ['days too far apart for the table', ['b', 'a'], 1e6],
  ] as const)('%s: each curve is that of the group alone', (_, labels, latest) => {
    fc.assert(
      fc.property(rows(labels, latest), sample => {
        const data = frozen({
          time: sample.map(r => r.time),
          event: sample.map(r => r.event),
          group: sample.map(r => r.group),
        });
        const curves = kaplanMeierByGroup(data, { interval: 'logit', level: 0.9 });
        expect(curves.map(c => c.curve.n).reduce((a, b) => a + b)).toBe(sample.length);
        expect(new Set(curves.map(c => c.group))).toEqual(new Set(data.group));
        for (const { group, curve } of curves) {
          const own = sample.filter(r => r.group === group);
          const alone = kaplanMeier(
            { time: own.map(r => r.time), event: own.map(r => r.event) },
            { interval: 'logit', level: 0.9 },
          );
          expect(curve).toEqual(alone);
        }
        // Weights of 1 take the other way through the code.
        expect(
          kaplanMeierByGroup({ ...data, weight: data.time.map(() => 1) }, { interval: 'logit', level: 0.9 }),
        ).toEqual(curves);
      }),
      { seed: 12, numRuns: 60 },
    );
  });

  it('keeps the order asked for, leaves out a group of nobody, and refuses what the other way refuses', () => {
    const data = frozen({ time: [3, 1, 2, 3], event: [1, 0, 1, 1], group: ['b', 'a', 'b', 'a'] });
    expect(kaplanMeierByGroup(data, { groups: ['b', 'none', 'a'] }).map(c => c.group)).toEqual(['b', 'a']);
    const refused = [
      () => kaplanMeierByGroup(data, { groups: ['a'] }),
      () => kaplanMeierByGroup({ ...data, time: [3, -1, 2, 3] }),
      () => kaplanMeierByGroup({ ...data, time: [3, 1, 2] }),
      () => kaplanMeierByGroup({ ...data, time: [] }),
      () => kaplanMeierByGroup({ ...data, event: [1, 2, 0, 1] }),
      () => kaplanMeierByGroup({ ...data, group: ['a', 'b', 'a'] }),
      () => kaplanMeierByGroup({ ...data, group: [1, 2, Number.NaN, 1] }),
      () => kaplanMeierByGroup(data, { level: 1 }),
    ];
    for (const call of refused) expect(call).toThrow(StatisticsError);
  });
});
