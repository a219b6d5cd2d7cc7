import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Seeded chance. */
export interface Dice {
  /** A whole number from 0 up to, not including, n. */
  below(n: number): number;
  pick<Item>(items: readonly Item[]): Item;
}

export function dice(seed: number): Dice {
  const generator = xoroshiro128plus(seed);
  const below = (n: number): number => (n <= 1 ? 0 : uniformInt(generator, 0, n - 1));
  return {
    below,
    pick(items) {
      const item = items[below(items.length)];
      if (item === undefined) throw new RangeError('nothing to pick from');
      return item;
    },
  };
}
