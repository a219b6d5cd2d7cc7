import { xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus';
import { logarithm } from './arithmetic.ts';

/** A stream of random numbers of one purpose. */
export interface Stream {
  /** Uniform on (0, 1), in steps of 2^-32; never 0 or 1. */
  readonly uniform: () => number;
  /** Standard normal (polar method of Marsaglia). */
  readonly normal: () => number;
  readonly chance: (probability: number) => boolean;
  /** Whole number from `low` to `high`, both included. */
  readonly whole: (low: number, high: number) => number;
  /** Place drawn in proportion to the weights. */
  readonly pick: (weights: readonly number[]) => number;
}

/** Bits of a 32-bit word well mixed (the finishing steps of MurmurHash3). */
function mix(word: number): number {
  let h = word | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}

function hashOf(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i += 1) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  return mix(h);
}

/**
 * The stream that belongs to a seed, an infant and a purpose. Every infant has streams of its own, so that infants can
 * be made one at a time and none depends on those before it; and every purpose has, so that changing the rate of
 * missing values, say, leaves the feet, the wear and the visits as they were.
 */
export function stream(seed: number, index: number, purpose: string): Stream {
  const label = hashOf(purpose);
  const high = Math.floor(seed / 4294967296);
  const words = [1, 2, 3, 4].map(i =>
    mix(mix(mix(mix(seed + Math.imul(i, 0x9e3779b9)) ^ high) + index) ^ Math.imul(label, i)),
  );
  const generator = xoroshiro128plusFromState([
    words[0] ?? 0,
    words[1] ?? 0,
    words[2] ?? 0,
    (words[3] ?? 0) | 1,
  ]);
  for (let i = 0; i < 8; i += 1) generator.next();

  const uniform = () => ((generator.next() >>> 0) + 0.5) / 4294967296;
  let spare = 0;
  let hasSpare = false;
  const normal = () => {
    if (hasSpare) {
      hasSpare = false;
      return spare;
    }
    for (;;) {
      const a = 2 * uniform() - 1;
      const b = 2 * uniform() - 1;
      const s = a * a + b * b;
      if (s > 0 && s < 1) {
        const factor = Math.sqrt((-2 * logarithm(s)) / s);
        spare = b * factor;
        hasSpare = true;
        return a * factor;
      }
    }
  };
  return {
    uniform,
    normal,
    chance: probability => uniform() < probability,
    whole: (low, upTo) => low + Math.floor(uniform() * (upTo - low + 1)),
    pick: weights => {
      let left = uniform() * weights.reduce((sum, w) => sum + w, 0);
      for (const [i, w] of weights.entries()) {
        left -= w;
        if (left < 0) return i;
      }
      return weights.length - 1;
    },
  };
}
