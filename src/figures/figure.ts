import type { TopLevelSpec } from 'vega-lite';

export type FigureWidth = 'page' | 'narrow';

/** Width of a whole figure in pixels: as wide as a column of text, or as a telephone. */
export const FIGURE_WIDTHS: Readonly<Record<FigureWidth, number>> = { page: 680, narrow: 400 };

/** A rectangle of a drawing, in pixels from its top left corner. */
export interface PlotArea {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** The values behind a figure in words, for the table that goes with it. */
export interface FigureValues {
  /** The first column is the head of the rows; a column of a group names it as the layers of the drawing do. */
  readonly columns: readonly {
    readonly label: string;
    readonly unit?: string;
    readonly group?: string;
  }[];
  readonly rows: readonly {
    readonly cells: readonly string[];
    /** Where the row stands on the horizontal axis, if it has one. */
    readonly at?: number;
  }[];
  /** Ends of the horizontal axis and where the plot lies, for a figure that can be read off at any point of the axis. */
  readonly axis?: {
    readonly domain: readonly [number, number];
    readonly plot: Readonly<Record<FigureWidth, PlotArea>>;
    /** The side of the plot that is left clear, where a reading hides least. */
    readonly clear: 'top' | 'bottom';
  };
}

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
  readonly values?: FigureValues;
}
