import type { Recovery } from './judge.ts';

export const VERDICTS = [
  'as it should be',
  'slightly biased',
  'biased',
  'intervals too narrow',
  'intervals too wide',
  'often no interval',
  'too few estimates',
] as const;
/** What the study says of one number in one scenario; the first that applies of those that find fault. */
export type Verdict = (typeof VERDICTS)[number];

/** A bias counts from so many Monte-Carlo errors, and from these shares of the spread of the estimates. */
const ERRORS = 3;
const OF_SPREAD = { slight: 0.25, plain: 0.5 };
/** Coverage that is near enough to 95 %. */
const NEAR = { lowest: 0.93, highest: 0.97 };
const LEVEL = 0.95;
/** Below this share of exports, estimates or intervals are too seldom there. */
const MOSTLY = 0.9;

export function verdictOf(recovery: Recovery): Verdict {
  const { bias, biasError = 0, rootMeanSquareError = 0, coverage, coverageError = 0 } = recovery;
  if (bias === undefined || recovery.estimated < recovery.exports / 2) return 'too few estimates';
  const spread = Math.sqrt(Math.max(0, rootMeanSquareError ** 2 - bias ** 2));
  const size = Math.abs(bias);
  if (size > ERRORS * biasError && size > OF_SPREAD.slight * spread) {
    return size > OF_SPREAD.plain * spread ? 'biased' : 'slightly biased';
  }
  // Of what never happens every interval holds the truth.
  if (coverage === undefined || recovery.truth === 0) return 'as it should be';
  // A coverage of 100 % has no error of its own.
  const error = Math.max(coverageError, Math.sqrt((LEVEL * (1 - LEVEL)) / recovery.intervals));
  if (coverage + 2 * error < NEAR.lowest) return 'intervals too narrow';
  if (recovery.intervals < MOSTLY * recovery.estimated) return 'often no interval';
  return coverage - 2 * error > NEAR.highest ? 'intervals too wide' : 'as it should be';
}
