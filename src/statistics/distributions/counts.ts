import { StatisticsError } from '../errors.ts';
import { requireFinite } from './tails.ts';

/** The largest count: exact tails of larger ones would take minutes, and normal limits are as good there. */
export const LARGEST_COUNT = 1e12;

/**
 * A count: a whole number of 0 or more, up to `LARGEST_COUNT`.
 *
 * @throws StatisticsError `missing-value`, `not-finite`, `not-a-whole-number`, `out-of-range`
 */
export function requireCount(name: string, value: number, least = 0): void {
  requireFinite(name, value);
  if (!Number.isInteger(value)) {
    throw new StatisticsError('not-a-whole-number', `${name} is ${value}; a whole number is needed`);
  }
  if (value < least) {
    throw new StatisticsError('out-of-range', `${name} is ${value}; it must be ${least} or more`);
  }
  if (value > LARGEST_COUNT) {
    throw new StatisticsError('out-of-range', `${name} is ${value}; a count of at most 1e12 can be used`);
  }
}

/**
 * The smallest whole number from `low` that passes a test which, once passed, stays passed.
 * The step doubles from `low`, then halves; `high` is returned untested if nothing below it passes.
 */
export function smallestPassing(passes: (k: number) => boolean, low: number, high: number): number {
  if (passes(low)) return low;
  let failing = low;
  let step = 1;
  while (failing + step < high && !passes(failing + step)) {
    failing += step;
    step *= 2;
  }
  let passing = Math.min(high, failing + step);
  while (passing - failing > 1) {
    const middle = Math.floor((failing + passing) / 2);
    if (passes(middle)) passing = middle;
    else failing = middle;
  }
  return passing;
}

/** A cumulative probability equal to p but for rounding counts as having reached it. */
export const REACHED = 1 - 1e-14;
