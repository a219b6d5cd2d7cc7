import { describe, expect, it } from 'vitest';
import {
  type FollowUpData,
  kaplanMeier,
  kaplanMeierByGroup,
  nelsonAalen,
  resampledQuantile,
  restrictedMean,
  restrictedMeanDifference,
  reverseKaplanMeier,
  riskTable,
  survivalAt,
  survivalQuantile,
} from '../../../src/statistics/survival/index.ts';
import { errorCode } from '../near.ts';

const good = { time: [3, 1, 2], event: [1, 0, 1] };

const refused: readonly (readonly [string, FollowUpData, string])[] = [
  ['nothing', { time: [], event: [] }, 'empty'],
  ['unequal lengths', { time: [1, 2], event: [1] }, 'length'],
  ['a missing time', { time: [1, Number.NaN, 2], event: [1, 0, 1] }, 'missing-value'],
  ['an infinite time', { time: [1, Number.POSITIVE_INFINITY], event: [1, 0] }, 'not-finite'],
  ['a negative time', { time: [1, -1], event: [1, 0] }, 'out-of-range'],
  ['an event of 2', { time: [1, 2], event: [1, 2] }, 'out-of-range'],
  ['a missing event', { time: [1, 2], event: [1, Number.NaN] }, 'missing-value'],
  ['entry at the exit', { ...good, entry: [0, 1, 0] }, 'entry-not-before-exit'],
  ['entry after the exit', { ...good, entry: [4, 0, 0] }, 'entry-not-before-exit'],
  ['entry at 0 and exit at 0', { time: [0, 1], event: [1, 1], entry: [0, 0] }, 'entry-not-before-exit'],
  ['a negative entry', { ...good, entry: [-1, 0, 0] }, 'out-of-range'],
  ['a missing entry', { ...good, entry: [0, Number.NaN, 0] }, 'missing-value'],
  ['a negative weight', { ...good, weight: [1, -1, 1] }, 'out-of-range'],
  ['weights of 0 only', { ...good, weight: [0, 0, 0] }, 'out-of-range'],
  ['too few clusters', { ...good, cluster: ['a'] }, 'length'],
];

describe('follow-up that cannot be used is refused by name', () => {
  for (const [what, data, code] of refused) {
    it(`${what}: ${code}`, () => {
      expect(errorCode(() => kaplanMeier(data))).toBe(code);
      expect(errorCode(() => nelsonAalen(data))).toBe(code);
      expect(errorCode(() => reverseKaplanMeier(data))).toBe(code);
      expect(errorCode(() => riskTable(data, [0]))).toBe(code);
      expect(errorCode(() => kaplanMeierByGroup({ ...data, group: Array.from(data.time, () => 'a') }))).toBe(
        code,
      );
    });
  }

  it('names the argument, the position counted from 0, and the value', () => {
    expect(() => kaplanMeier({ time: [1, -2], event: [1, 0] })).toThrow(
      'time[1] is -2; a time of 0 or later is needed',
    );
    expect(() => kaplanMeier({ ...good, entry: [0, 5, 0] })).toThrow('entry[1] is 5 and the exit is 1');
  });

  it('refuses options that mean nothing', () => {
    for (const level of [0, 1, 95, Number.NaN])
      expect(errorCode(() => kaplanMeier(good, { level }))).toBe('out-of-range');
    const wrong = (text: string) => text as 'log';
    expect(errorCode(() => kaplanMeier(good, { interval: wrong('wald') }))).toBe('unknown-option');
    expect(errorCode(() => nelsonAalen(good, { interval: wrong('logit') }))).toBe('unknown-option');
    expect(
      errorCode(() => kaplanMeierByGroup({ ...good, group: ['a', 'b', 'c'] }, { groups: ['a', 'b'] })),
    ).toBe('out-of-range');
  });

  it('refuses levels, horizons and times that mean nothing', () => {
    const curve = kaplanMeier(good);
    for (const p of [0, 1, -0.5, Number.NaN]) {
      expect(errorCode(() => survivalQuantile(curve, p))).toBe('out-of-range');
      expect(errorCode(() => resampledQuantile(good, p))).toBe('out-of-range');
    }
    for (const horizon of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(errorCode(() => restrictedMean(curve, horizon))).toBe('out-of-range');
    }
    expect(errorCode(() => survivalAt(curve, []))).toBe('empty');
    expect(errorCode(() => survivalAt(curve, [Number.NaN]))).toBe('missing-value');
  });

  it('has a named result where there is nothing to estimate', () => {
    const censored = kaplanMeier({ time: [2, 1], event: [0, 0] });
    expect(censored.survival).toEqual([1, 1]);
    expect(survivalQuantile(censored, 0.5)).toEqual({
      estimate: undefined,
      lower: undefined,
      upper: undefined,
    });
    expect(restrictedMeanDifference(censored, censored, 2)).toMatchObject({
      estimate: 0,
      z: undefined,
      pValue: undefined,
    });
    expect(resampledQuantile(good, 0.5)([0, 0, 0])).toBeUndefined();
    expect(kaplanMeier({ ...good, weight: [1, 0, 2] }).survival.every(Number.isFinite)).toBe(true);
  });
});
