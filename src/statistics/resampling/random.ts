import { requireArgument } from '../columns.ts';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { StatisticsError } from '../errors.ts';

/** A stream of seeded random numbers; the same seed gives the same stream on every machine. */
export interface RandomStream {
  /** Uniform on (0, 1), with 53 random bits; never 0 or 1. */
  readonly uniform: () => number;
  /** Uniform whole number from 0 up to, not including, the bound (at most 2^32). */
  readonly below: (bound: number) => number;
  /** Standard normal. */
  readonly normal: () => number;
  /** Unit exponential. */
  readonly exponential: () => number;
}

/**
 * A stream of random numbers from a 32-bit seed (xoroshiro128+; Blackman and Vigna, ACM Trans Math Softw 2021;47:36). Normals come by Marsaglia's polar method, whose one
 * logarithm and square root are the only operations not exactly specified by IEEE arithmetic.
 *
 * @throws StatisticsError `not-a-whole-number` for a seed that is not a safe whole number
 * @example randomStream(7).below(6) // 2
 */
export function randomStream(seed: number): RandomStream {
  requireArgument('seed', seed);
  if (!Number.isSafeInteger(seed)) {
    throw new StatisticsError('not-a-whole-number', `seed is ${seed}; a whole number is needed`);
  }
  const generator = xoroshiro128plus(seed | 0);
  const word = (): number => generator.next() >>> 0;
  const uniform = (): number => {
    const high = word() >>> 5;
    const low = word() >>> 6;
    return (high * 67108864 + low + 0.5) / 9007199254740992;
  };
  const below = (bound: number): number => {
    // Values at the ragged end of the 32-bit range are drawn again, so that every outcome is equally likely.
    const limit = 4294967296 - (4294967296 % bound);
    let value = word();
    while (value >= limit) value = word();
    return value % bound;
  };
  let spare: number | undefined;
  const normal = (): number => {
    if (spare !== undefined) {
      const value = spare;
      spare = undefined;
      return value;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const factor = Math.sqrt((-2 * Math.log(square)) / square);
      spare = y * factor;
      return x * factor;
    }
  };
  return { uniform, below, normal, exponential: () => -Math.log(uniform()) };
}
