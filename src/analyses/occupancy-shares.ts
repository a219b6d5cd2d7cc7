import type { Count } from '../wording/hidden-count.ts';

/**
 * The shares of feet in each state at the end of every week, for stacked areas: at each week the shares add up to 1.
 * Tables are by state, then week.
 */
export interface OccupancyShares {
  /** Unique within the finding, such as `occupancy.severe`. */
  readonly key: string;
  /** A severity band, or `all`. */
  readonly group: string;
  /** In the order of the areas: longest hours first, then `finished` and `left`. */
  readonly states: readonly string[];
  /** Weeks since first fitting, from 0. */
  readonly week: readonly number[];
  readonly share: readonly (readonly number[])[];
  readonly standardError: readonly (readonly number[])[];
  readonly lower: readonly (readonly (number | undefined)[])[];
  readonly upper: readonly (readonly (number | undefined)[])[];
  /** Feet still in a phase and followed just before the end of the week. */
  readonly inTherapy: readonly Count[];
  readonly n: Count;
  readonly infants: Count;
}
