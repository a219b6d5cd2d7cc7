import { eventColumn, finiteColumn, finiteColumnOf, requireLength } from '../../columns.ts';
import { StatisticsError } from '../../errors.ts';

/** Times seen exactly or known to lie after the last time under observation. */
export interface RightCensoredTimes {
  readonly time: ArrayLike<number>;
  readonly event: ArrayLike<number | boolean>;
}

/** Times known to lie in (lower, upper]: exact where equal, left-censored at lower 0, right-censored at upper Infinity. */
export interface IntervalTimes {
  readonly lower: ArrayLike<number>;
  readonly upper: ArrayLike<number>;
}

export type CensoringKind = 'exact' | 'right' | 'left' | 'interval';

/** Times on the log scale with what is known of each. */
export interface CensoredTimes {
  readonly kinds: readonly CensoringKind[];
  /** Logarithm of the exact time or of the lower bound; unused for left-censored. */
  readonly logLower: Float64Array;
  /** Logarithm of the upper bound; unused unless left- or interval-censored. */
  readonly logUpper: Float64Array;
}

/**
 * Reads either form of times onto the log scale.
 *
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`; `out-of-range` for a time that is not
 * above 0, bounds in the wrong order, or a row that excludes nothing (0 to Infinity)
 */
export function censoredTimes(data: RightCensoredTimes | IntervalTimes): CensoredTimes {
  return 'time' in data ? fromRightCensored(data) : fromIntervals(data);
}

function fromRightCensored(data: RightCensoredTimes): CensoredTimes {
  const time = finiteColumn('time', data.time);
  const event = eventColumn('event', data.event, time.length);
  for (const [i, value] of time.entries()) {
    if (!(value > 0)) {
      throw new StatisticsError('out-of-range', `time[${i}] is ${value}; a time above 0 is needed`);
    }
  }
  return {
    kinds: Array.from(event, flag => (flag === 1 ? 'exact' : 'right')),
    logLower: time.map(Math.log),
    logUpper: new Float64Array(time.length),
  };
}

function fromIntervals(data: IntervalTimes): CensoredTimes {
  const lower = finiteColumn('lower', data.lower);
  const n = lower.length;
  requireLength('upper', data.upper, n);
  const ends = Array.from(data.upper, value => (value === Number.POSITIVE_INFINITY ? 0 : value));
  const upper = finiteColumnOf('upper', ends, n);
  const kinds: CensoringKind[] = [];
  for (const [i, low] of lower.entries()) {
    const open = data.upper[i] === Number.POSITIVE_INFINITY;
    const high = upper[i] as number;
    if (low < 0) {
      throw new StatisticsError('out-of-range', `lower[${i}] is ${low}; 0 or more is needed`);
    }
    if (open) {
      if (low === 0) {
        throw new StatisticsError(
          'out-of-range',
          `row ${i} runs from 0 to Infinity and tells nothing of its time`,
        );
      }
      kinds.push('right');
      continue;
    }
    if (!(high > 0) || high < low) {
      throw new StatisticsError(
        'out-of-range',
        `upper[${i}] is ${high}; above 0 and not below lower (${low}) is needed`,
      );
    }
    kinds.push(low === high ? 'exact' : low === 0 ? 'left' : 'interval');
  }
  return {
    kinds,
    logLower: lower.map(value => (value > 0 ? Math.log(value) : 0)),
    logUpper: upper.map(value => (value > 0 ? Math.log(value) : 0)),
  };
}
