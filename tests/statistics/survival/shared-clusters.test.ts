import { describe, expect, it } from 'vitest';
import { kaplanMeier, restrictedMeanDifference } from '../../../src/statistics/survival/index.ts';

// Two groups of three; c and d have a row in either.
const FIRST = {
  time: Object.freeze([4, 2, 6]),
  event: Object.freeze([1, 1, 1]),
  cluster: Object.freeze(['c', 'a', 'd']),
};
const SECOND = {
  time: Object.freeze([8, 6, 4]),
  event: Object.freeze([1, 1, 1]),
  cluster: Object.freeze(['d', 'b', 'c']),
};
const shared = { cluster: [FIRST.cluster, SECOND.cluster] } as const;

describe('the difference of two restricted means whose rows share clusters', () => {
  it('adds up what a cluster contributes to either mean, worked out on paper', () => {
    // Without censoring the restricted mean to 10 is the plain mean, 4 and 6, and a row contributes (time - mean) / 3.
    // First: c 0, a -2/3, d 2/3. Second: d 2/3, b 0, c -2/3. Second less first: a 2/3, b 0, c -2/3, d 0.
    const found = restrictedMeanDifference(kaplanMeier(FIRST), kaplanMeier(SECOND), 10, shared);
    expect(found.estimate).toBeCloseTo(2, 12);
    expect(found.standardError).toBeCloseTo(Math.sqrt(8 / 9), 12);
    // As different people: 4/9 four times over.
    const apart = restrictedMeanDifference(kaplanMeier(FIRST), kaplanMeier(SECOND), 10);
    expect(apart.standardError).toBeCloseTo(Math.sqrt(16 / 9), 12);
    expect(found.ratio?.estimate).toBeCloseTo(1.5, 12);
    // Contributions to the log of the ratio, each over its mean: a 1/6, b 0, c -1/9, d 1/9 - 1/6.
    const error = Math.hypot(1 / 6, 1 / 9, 1 / 18);
    expect(Math.log((found.ratio?.upper ?? 0) / 1.5)).toBeCloseTo(1.959963984540054 * error, 12);
  });

  it('is that of different people where no label is shared', () => {
    const cluster = [FIRST.cluster, ['x', 'y', 'z']] as const;
    const apart = restrictedMeanDifference(kaplanMeier(FIRST), kaplanMeier(SECOND), 10);
    const found = restrictedMeanDifference(kaplanMeier(FIRST), kaplanMeier(SECOND), 10, { cluster });
    expect(found.standardError).toBeCloseTo(apart.standardError ?? Number.NaN, 12);
  });

  it('is 0 between a curve and itself, with weights and late entry too', () => {
    const data = { ...FIRST, entry: [1, 0, 0], weight: [2, 1, 1.5] };
    const curve = kaplanMeier(data);
    const same = { cluster: [data.cluster, data.cluster] } as const;
    expect(restrictedMeanDifference(curve, curve, 5, same)).toMatchObject({ estimate: 0, standardError: 0 });
    const apart = restrictedMeanDifference(curve, curve, 5, { cluster: [data.cluster, ['x', 'y', 'z']] });
    const alone = restrictedMeanDifference(curve, curve, 5);
    expect(apart.standardError).toBeCloseTo(alone.standardError ?? Number.NaN, 12);
  });

  it('refuses curves without clusters, and too few labels', () => {
    const plain = kaplanMeier({ time: FIRST.time, event: FIRST.event });
    expect(() => restrictedMeanDifference(plain, plain, 10, shared)).toThrow(/made without clusters/);
    const cluster = [FIRST.cluster, ['x']] as const;
    expect(() => restrictedMeanDifference(kaplanMeier(FIRST), kaplanMeier(SECOND), 10, { cluster })).toThrow(
      'cluster[1] has 1 labels; 3 are needed',
    );
  });
});
