/** A rule of a control chart that fired, at a place in the list of quarters. */
export interface ChartSignal {
  readonly place: number;
  readonly rule: string;
  readonly side?: 'above' | 'below';
}

/** One point of a control chart, with its own limits at three standard errors. */
export interface QuarterPoint {
  /** Place in the list of quarters. */
  readonly place: number;
  readonly count: number;
  /** What the count is divided by: those that came due, or time at risk in the unit of the chart. */
  readonly size: number;
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
}

/** A control chart over quarters (p chart for a proportion, u chart for a rate), with the run chart of the same points. */
export interface QuarterChart {
  readonly key: string;
  readonly title: string;
  readonly kind: 'proportion' | 'rate';
  /** `of 1`, or such as `per 100 foot-weeks`. */
  readonly unit: string;
  /** Every quarter on the axis, the one reported last. A quarter in which too few came due has no point. */
  readonly quarters: readonly string[];
  readonly points: readonly QuarterPoint[];
  readonly centre: number;
  readonly target?: number;
  readonly ruleSet: string;
  readonly signals: readonly ChartSignal[];
  readonly median: number;
  /** Points in a row on one side of the median that make a shift. */
  readonly shift: number;
  readonly shifts: readonly ChartSignal[];
}
