import type { Count } from '../wording/hidden-count.ts';

/** A row of points, a line or a step function of a plot. Arrays are of equal length; absent limits are not known. */
export interface PlotSeries {
  /** Unique within the plot, such as `fitted.severe`. */
  readonly key: string;
  readonly label: string;
  /** A severity band, where the series belongs to one. */
  readonly group?: string;
  readonly shape: 'points' | 'line' | 'steps';
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly lower?: readonly (number | undefined)[];
  readonly upper?: readonly (number | undefined)[];
  /** The key of the curve of the finding that this series shows again. */
  readonly curve?: string;
  /** How many feet each point is the mean of. */
  readonly feet?: readonly number[];
}

/** Where the points would lie if the model held, or a value that means no difference. */
export type PlotReference =
  | { readonly kind: 'diagonal' }
  | { readonly kind: 'level'; readonly y: number; readonly label: string };

/** Data for a drawing other than a survival curve: what the axes show, and the series. */
export interface Plot {
  /** Unique within the finding, such as `schoenfeld.band.severe`. */
  readonly key: string;
  /** What is seen, in words, without the result. */
  readonly title: string;
  readonly x: { readonly label: string; readonly unit?: string };
  readonly y: { readonly label: string; readonly unit?: string };
  readonly series: readonly PlotSeries[];
  readonly references: readonly PlotReference[];
  /** How to read it: what would show that the model does not hold. */
  readonly reading: string;
  readonly n: Count;
  readonly infants: Count;
}
