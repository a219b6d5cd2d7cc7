import { finiteColumn } from '../columns.ts';
import { firstLater } from '../distinct-times.ts';
import type { IncidenceCurve } from './cumulative-incidence.ts';

export interface IncidenceAtTime {
  readonly time: number;
  readonly incidence: number;
  readonly standardError: number;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  /**
   * The time is later than the last observed one: the values are those at the end of follow-up, carried
   * forward.
   */
  readonly beyondFollowUp: boolean;
}

/**
 * One cause's incidence read at given times, in the order given, events at the time itself counted; 0 before
 * the first observed time, without limits.
 *
 * The estimate is that of `cumulativeIncidence`: F_j(t) is its value at the last event time not after t.
 *
 * @throws StatisticsError for empty, missing or infinite times
 * @example incidenceAt(incidence, [84])[0].incidence // 0.4
 */
export function incidenceAt(curve: IncidenceCurve, times: ArrayLike<number>): readonly IncidenceAtTime[] {
  const observed = Float64Array.from(curve.time);
  const last = observed[observed.length - 1] ?? 0;
  return Array.from(finiteColumn('times', times), time => {
    const k = firstLater(observed, time) - 1;
    return {
      time,
      incidence: curve.incidence[k] ?? 0,
      standardError: curve.standardError[k] ?? 0,
      lower: curve.lower[k],
      upper: curve.upper[k],
      beyondFollowUp: time > last,
    };
  });
}
