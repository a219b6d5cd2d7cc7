import type { TopLevelSpec } from 'vega-lite';

export type FigureWidth = 'page' | 'narrow';

/** Width of a whole figure in pixels: as wide as a column of text, or as a telephone. */
export const FIGURE_WIDTHS: Readonly<Record<FigureWidth, number>> = { page: 680, narrow: 400 };

/** A chart with the words that go with it, drawn in two widths from the same data. */
export interface Figure {
  /** Unique in a report; also its file name. */
  readonly key: string;
  /** States the finding. */
  readonly title: string;
  /** Measure, unit, kind of interval. */
  readonly subtitle: string;
  /** What the figure says, for a reader who cannot see it. */
  readonly description: string;
  readonly specs: Readonly<Record<FigureWidth, TopLevelSpec>>;
}
