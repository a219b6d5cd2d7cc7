import { normalCumulative, type RandomStream } from '../statistics/all.ts';

/** The feet of a simulated cohort: which infant each belongs to, and which of two arms that infant. */
export interface Feet {
  readonly infant: Int32Array;
  readonly arm: Uint8Array;
  readonly infants: number;
}

/** Correlation of the two feet of an infant on the normal scale. */
const correlation = 0.6;

/** Infants with two feet with probability one half, else with one, and an arm by turns, until there are enough feet. */
export function feetOfInfants(random: RandomStream, feet: number): Feet {
  const infant = new Int32Array(feet);
  const arm = new Uint8Array(feet);
  let infants = 0;
  for (let i = 0; i < feet; infants++) {
    const both = random.below(2) === 1;
    for (let k = 0; k < (both ? 2 : 1) && i < feet; k++, i++) {
      infant[i] = infants;
      arm[i] = infants % 2;
    }
  }
  return { infant, arm, infants };
}

/**
 * Uniform numbers, one a foot, that share a part between the feet of an infant (a frailty on the normal scale).
 * Each alone is exactly uniform, so that whatever is made of them has a known distribution.
 */
export function sharedUniforms(random: RandomStream, { infant, infants }: Feet): Float64Array {
  const shared = Float64Array.from({ length: infants }, () => random.normal());
  return Float64Array.from(infant, i =>
    normalCumulative(
      Math.sqrt(correlation) * (shared[i] as number) + Math.sqrt(1 - correlation) * random.normal(),
    ),
  );
}

/** Uniform numbers that all feet of an infant have in common, for what happens to the infant. */
export function uniformsOfInfants(random: RandomStream, { infant, infants }: Feet): Float64Array {
  const shared = Float64Array.from({ length: infants }, () => random.uniform());
  return Float64Array.from(infant, i => shared[i] as number);
}

/** Weibull times, shape 1.5 and scale 70 days, with a hazard multiplied by `ratio`. */
export function weibullTime(uniform: number, ratio = 1): number {
  return 70 * (-Math.log(uniform) / ratio) ** (1 / 1.5);
}

/** The chance that such a time is later than t. */
export function weibullSurvival(t: number, ratio = 1): number {
  return Math.exp(-ratio * (t / 70) ** 1.5);
}

/** Follow-up in whole days to the correction of each foot, ended for both feet of an infant by the same censoring. */
export interface Corrections extends Feet {
  readonly time: Float64Array;
  readonly event: Uint8Array;
}

/** Corrections with a hazard `ratio` times as high in arm 1; about a quarter of the feet are censored. */
export function corrections(random: RandomStream, count: number, ratio = 1): Corrections {
  const feet = feetOfInfants(random, count);
  const uniforms = sharedUniforms(random, feet);
  const ends = uniformsOfInfants(random, feet);
  const time = new Float64Array(count);
  const event = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    // Rounded up, so that survival at a whole day is that of the continuous time.
    const corrected = Math.ceil(weibullTime(uniforms[i] as number, feet.arm[i] === 1 ? ratio : 1));
    const censored = Math.ceil(30 + 170 * (ends[i] as number));
    time[i] = Math.min(corrected, censored);
    event[i] = corrected <= censored ? 1 : 0;
  }
  return { ...feet, time, event };
}
