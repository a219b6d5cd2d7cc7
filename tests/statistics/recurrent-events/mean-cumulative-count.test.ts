import { describe, expect, it } from 'vitest';
import {
  meanCumulativeCount,
  meanCumulativeCountByGroup,
} from '../../../src/statistics/recurrent-events/index.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { errorCode, expectNear } from '../near.ts';

interface Hand {
  readonly time: readonly number[];
  readonly atRisk: readonly number[];
  readonly events: readonly number[];
  readonly mcf: readonly number[];
  readonly seRobust: readonly number[];
  readonly lowerLog: readonly number[];
  readonly upperLog: readonly number[];
  readonly lowerPlain: readonly number[];
  readonly upperPlain: readonly number[];
}
interface Package {
  readonly time: readonly number[];
  readonly cumhaz: readonly number[];
  readonly stdErrCumhaz: readonly number[];
}
interface Reference {
  readonly hand: Readonly<Record<string, Hand>>;
  readonly survfit: Readonly<Record<string, Package>>;
}

// Reference: by formula in the script, and the cumulative hazard of survfit with subjects named, R package
// survival 3.5-3.
const cases = [
  ['mcf-cgd', 'cgd', 'treat', 'tstop', 'status'],
  ['mcf-bladder', 'bladder2', 'rx', 'stop', 'event'],
] as const;

describe('mean cumulative count against reference values', () => {
  for (const [file, name, group, time, event] of cases) {
    it(`${file}: mean, robust error, log and plain limits`, () => {
      const values = referenceValues(file).values as Reference;
      const rows = dataset(name);
      const data = Object.freeze({
        subject: Object.freeze(rows.map(row => row.id ?? '')),
        time: Object.freeze(numbers(rows, time)),
        event: Object.freeze(numbers(rows, event)),
        group: Object.freeze(rows.map(row => row[group] ?? '')),
      });
      const plain = meanCumulativeCountByGroup(data, { interval: 'plain' });
      for (const [g, { group: label, curve }] of meanCumulativeCountByGroup(data).entries()) {
        const hand = values.hand[label];
        const own = values.survfit[`${group}=${label}`];
        for (const [i, t] of (hand?.time ?? []).entries()) {
          const k = curve.time.indexOf(t);
          expect(curve.atRisk[k]).toBe(hand?.atRisk[i]);
          expect(curve.events[k]).toBe(hand?.events[i]);
          expectNear(curve.mean[k], hand?.mcf[i] ?? 0);
          expectNear(curve.standardError[k], hand?.seRobust[i] ?? 0);
          expectNear(curve.lower[k], hand?.lowerLog[i] ?? 0);
          expectNear(curve.upper[k], hand?.upperLog[i] ?? 0);
          expectNear(plain[g]?.curve.lower[k], hand?.lowerPlain[i] ?? 0);
          expectNear(plain[g]?.curve.upper[k], hand?.upperPlain[i] ?? 0);
        }
        for (const [i, t] of (own?.time ?? []).entries()) {
          const k = curve.time.findLastIndex(at => at <= t);
          expectNear(curve.mean[k], own?.cumhaz[i] ?? 0);
          expectNear(curve.standardError[k], own?.stdErrCumhaz[i] ?? 0);
        }
      }
    });
  }
});

describe('mean cumulative count, worked by hand', () => {
  // x: events at 3 and 5, to 6. y: one at 5, to 5. z: none, from 4 to 8.
  const data = Object.freeze({
    subject: Object.freeze(['y', 'x', 'z', 'x']),
    time: Object.freeze([5, 5, 8, 3]),
    event: Object.freeze([1, 1, 0, 1]),
    end: Object.freeze([5, 6, 8, 6]),
    entry: Object.freeze([0, 0, 4, 0]),
  });

  it('adds events over those under observation', () => {
    const found = meanCumulativeCount(data);
    expect(found.time).toEqual([3, 5, 6, 8]);
    expect(found.atRisk).toEqual([2, 3, 2, 1]);
    expect(found.events).toEqual([1, 2, 0, 0]);
    expectNear(found.mean[1], 1 / 2 + 2 / 3, 1e-15);
    expect(found.n).toBe(3);
  });

  it('squares each subject: x 1/4 + 1/9, y -1/4 + 1/9, z -2/9', () => {
    const found = meanCumulativeCount(data);
    expectNear(found.standardError[0], Math.sqrt(2 / 16), 1e-14);
    const squares = (1 / 4 + 1 / 9) ** 2 + (-1 / 4 + 1 / 9) ** 2 + (2 / 9) ** 2;
    for (const k of [1, 2, 3]) expectNear(found.standardError[k], Math.sqrt(squares), 1e-14);
    const paired = meanCumulativeCount(data, { cluster: ['p', 'p', 'q', 'p'] });
    expectNear(paired.standardError[1], Math.sqrt(2 * (2 / 9) ** 2), 1e-14);
  });

  it('has no log limits before the first event, and takes the last time where no end is given', () => {
    const found = meanCumulativeCount({ subject: [1, 2, 2], time: [2, 4, 9], event: [0, 1, 0] });
    expect(found.lower[0]).toBeUndefined();
    expect(found.time).toEqual([2, 4, 9]);
    expect(found.mean).toEqual([0, 1, 1]);
  });

  it('refuses contradictions, by name', () => {
    expect(errorCode(() => meanCumulativeCount({ ...data, end: [5, 6, 8, 7] }))).toBe('out-of-range');
    expect(errorCode(() => meanCumulativeCount({ ...data, end: [4, 6, 8, 6] }))).toBe('out-of-range');
    expect(errorCode(() => meanCumulativeCount({ ...data, entry: [5, 0, 4, 0] }))).toBe(
      'entry-not-before-exit',
    );
    expect(errorCode(() => meanCumulativeCount({ ...data, event: [1, 2, 0, 1] }))).toBe('out-of-range');
    expect(errorCode(() => meanCumulativeCount({ subject: [], time: [], event: [] }))).toBe('empty');
    const groups = { ...data, group: ['a', 'a', 'a', 'b'] };
    expect(errorCode(() => meanCumulativeCountByGroup(groups))).toBe('out-of-range');
  });
});
