import type { RandomStream } from '../../src/statistics/index.ts';

/** What one data set says of each method: whether its interval held the truth, or its test rejected. */
export type Verdicts = Readonly<Record<string, boolean | undefined>>;

/** A question put to many simulated data sets. */
export interface Study {
  /** The estimator or test. */
  readonly estimator: string;
  /** What is simulated and what is true. */
  readonly setting: string;
  /** Coverage of 95 % intervals, or size of tests at 5 % under no difference. */
  readonly measure: 'coverage' | 'size';
  /** What to use where the plain method fails. */
  readonly advice: string;
  /** Data sets, where the method is too slow for the usual number. */
  readonly dataSets?: number;
  /** One data set of so many feet, judged by each method; undefined where a method gave no interval or p-value. */
  readonly judge: (random: RandomStream, feet: number) => Verdicts;
}

/** Whether an interval holds the truth; no answer where a limit is missing on the side of interest. */
export function holds(
  truth: number,
  interval: { readonly lower: number | undefined; readonly upper: number | undefined } | undefined,
): boolean | undefined {
  if (interval === undefined) return undefined;
  const { lower, upper } = interval;
  return lower === undefined || upper === undefined ? undefined : lower <= truth && truth <= upper;
}

/** As `holds`, for a time by which a share has ended: an upper limit that is not reached is as late as can be. */
export function holdsTime(
  truth: number,
  { lower, upper }: { readonly lower: number | undefined; readonly upper: number | undefined },
): boolean | undefined {
  return lower === undefined ? undefined : lower <= truth && truth <= (upper ?? Number.POSITIVE_INFINITY);
}
