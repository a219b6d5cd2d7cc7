import { describe, expect, it } from 'vitest';
import { wilcoxonRankSum } from '../../../src/statistics/index.ts';

describe('the interval of a shift', () => {
  it('is undefined where the whole range of differences falls short of the level', () => {
    // Two values a side: the range of the four differences covers with chance 1 - 2/6.
    expect(wilcoxonRankSum([1], [2])).toMatchObject({ estimate: -1, lower: undefined, upper: undefined });
    expect(wilcoxonRankSum([1, 2], [3, 5])).toMatchObject({ lower: undefined, upper: undefined });
    expect(wilcoxonRankSum([1, 2], [3, 5], { level: 0.6 })).toMatchObject({ lower: -4, upper: -1 });
  });

  it('is the range where that just reaches the level', () => {
    // Four a side: 1 - 2/70 = 97 %; three a side: 1 - 2/20 = 90 %.
    const [x, y] = [
      [1, 2, 4, 8],
      [16, 32, 64, 128],
    ] as const;
    expect(wilcoxonRankSum(x, y)).toMatchObject({ lower: -127, upper: -8 });
    expect(wilcoxonRankSum(x.slice(1), y.slice(1))).toMatchObject({ lower: undefined });
    expect(wilcoxonRankSum(x.slice(1), y.slice(1), { level: 0.9 })).toMatchObject({
      lower: -126,
      upper: -24,
    });
  });
});
