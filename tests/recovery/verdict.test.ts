import { describe, expect, it } from 'vitest';
import { judge } from './judge.ts';
import { productLimit } from './product-limit.ts';
import { verdictOf } from './verdict.ts';
import type { Estimand } from './estimands.ts';

const share: Estimand = {
  name: 'a share',
  topic: 'phases',
  method: 'a method',
  what: 'a state',
  unit: 'share',
  truths: { true: 0.5 },
};
const median: Estimand = { ...share, name: 'a median', unit: 'weeks', truths: { true: 8 } };

/** Estimates spread evenly over 0.1 either side, with limits of that width about them. */
const spread = (shift: number, halfWidth: number) =>
  Array.from({ length: 400 }, (_, i) => {
    const estimate = 0.5 + shift + 0.2 * (i / 399 - 0.5);
    return { 'a share': { estimate, lower: estimate - halfWidth, upper: estimate + halfWidth } };
  });

const verdict = (shift: number, halfWidth: number) => {
  const [recovery] = judge(share, spread(shift, halfWidth));
  if (recovery === undefined) throw new RangeError('nothing judged');
  return verdictOf(recovery);
};

describe('the judge of estimates', () => {
  it('reckons bias, its error, root mean square error and coverage', () => {
    const exports = [1, 2, 3, 6].map(estimate => ({
      'a median': { estimate, lower: estimate, upper: estimate + 5 },
    }));
    const [recovery] = judge(median, exports);
    // Mean 3, errors -7, -6, -5, -2; variance (4 + 1 + 0 + 9) / 3; only the last two intervals reach 8.
    expect(recovery?.bias).toBeCloseTo(-5, 12);
    expect(recovery?.rootMeanSquareError).toBeCloseTo(Math.sqrt((49 + 36 + 25 + 4) / 4), 12);
    expect(recovery?.biasError).toBeCloseTo(Math.sqrt(14 / 3 / 4), 12);
    expect(recovery?.coverage).toBe(0.5);
  });

  it('takes the upper limit of a time that is not reached as later than any, but no interval without a lower one', () => {
    const [recovery] = judge(median, [
      { 'a median': { estimate: 7, lower: 6 } },
      { 'a median': { estimate: 7 } },
      {},
    ]);
    expect(recovery).toMatchObject({ exports: 3, estimated: 2, intervals: 1, coverage: 1 });
  });

  it('takes the middle of a range from its ends', () => {
    const [recovery] = judge({ ...share, name: 'x.middle.y' }, [
      { 'x.at-least.y': { estimate: 0.2 }, 'x.at-most.y': { estimate: 0.6 } },
      { 'x.at-least.y': { estimate: 0.4 }, 'x.at-most.y': { estimate: 0.4 } },
    ]);
    expect(recovery?.mean).toBeCloseTo(0.4, 12);
  });

  it('gives its verdict by bias first, then by coverage', () => {
    // The spread is 0.2 / sqrt(12) = 0.058; half-width 0.095 covers 95 %.
    expect(verdict(0, 0.095)).toBe('as it should be');
    expect(verdict(0.02, 0.095)).toBe('slightly biased');
    expect(verdict(-0.04, 0.095)).toBe('biased');
    expect(verdict(0, 0.08)).toBe('intervals too narrow');
    expect(verdict(0, 0.11)).toBe('intervals too wide');
  });
});

describe('the product-limit curve of the truth', () => {
  it('puts events before those censored on the same day', () => {
    // At risk 5, 4, 2: 1 - (4/5)(3/4) = 0.4 by day 2, and (1 - 1/2) of the rest on day 3.
    const curve = productLimit([1, 2, 2, 3, 4], [true, true, false, true, false]);
    expect(curve.shareBy(0)).toBe(0);
    expect(curve.shareBy(1)).toBeCloseTo(0.2, 12);
    expect(curve.shareBy(2)).toBeCloseTo(0.4, 12);
    expect(curve.shareBy(3)).toBeCloseTo(0.7, 12);
    expect(curve.shareBy(99)).toBeCloseTo(0.7, 12);
    expect(curve.median).toBe(3);
  });

  it('has no median where half are never reached', () => {
    expect(productLimit([3, 4], [false, false]).median).toBeUndefined();
  });
});
