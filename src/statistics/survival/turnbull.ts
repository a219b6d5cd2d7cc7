import {
  checkedIntervals,
  innermostIntervals,
  type IntervalCensoredData,
  type IntervalRows,
} from './turnbull-intervals.ts';
import { maximumLikelihoodMasses } from './turnbull-masses.ts';

export interface TurnbullOptions {
  /** Iterations after which to give up; 5,000 unless told. */
  readonly maximumIterations?: number | undefined;
  /**
   * How far the conditions for the maximum may be missed, relative to the number of rows; 1e-11 unless told.
   */
  readonly tolerance?: number | undefined;
}

export interface TurnbullEstimate {
  /**
   * Ascending and apart; mass somewhere in (lower, upper], or at the time if both are equal. Intervals
   * without mass are left out.
   */
  readonly intervals: readonly { readonly lower: number; readonly upper: number; readonly mass: number }[];
  readonly logLikelihood: number;
  readonly iterations: number;
  readonly converged: boolean;
  /** Number of rows. */
  readonly n: number;
}

const noMass = 1e-13;

/**
 * Nonparametric maximum-likelihood estimate of a distribution of times known only to lie in intervals.
 *
 * - A row says: the event lies in (lower, upper]; `upper = Infinity` is right-censored, `lower = 0` (or
 *   -Infinity) left-censored, `lower = upper` an exact time.
 * - The masses lie on the innermost intervals; where within an interval its mass lies, the data do not say.
 * - If `converged` is false the masses are not the estimate.
 *
 * @throws StatisticsError `out-of-range` if lower is above upper, for a negative time or weight; `empty`,
 *   `length`, `missing-value`, `not-finite`
 * @example turnbull({ lower: [0, 4], upper: [4, Infinity] }).intervals // [{ lower: 0, upper: 4, mass: 0.5 }, {
 *   lower: 4, upper: Infinity, mass: 0.5 }]
 *
 * Source: Peto, Appl Stat 1973;22:86-91; Turnbull, J R Stat Soc B 1976;38:290-295. See
 * `maximumLikelihoodMasses` for the way it is found.
 */
export function turnbull(data: IntervalCensoredData, options: TurnbullOptions = {}): TurnbullEstimate {
  return turnbullOfRows(checkedIntervals(data), options);
}

/** As `turnbull`, on rows already checked. */
export function turnbullOfRows(rows: IntervalRows, options: TurnbullOptions): TurnbullEstimate {
  const data = innermostIntervals(rows);
  const found = maximumLikelihoodMasses(data, options.maximumIterations ?? 5_000, options.tolerance ?? 1e-11);
  const intervals = Array.from(found.mass, (mass, j) => ({
    lower: data.lower[j] as number,
    upper: data.upper[j] as number,
    mass,
  })).filter(interval => interval.mass > noMass);
  const { logLikelihood, iterations, converged } = found;
  return { intervals, logLikelihood, iterations, converged, n: rows.lower.length };
}
