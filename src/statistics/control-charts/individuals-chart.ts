import { finiteColumn, requireSize } from '../columns.ts';
import { baselineLength, type ChartOptions, type ControlChart } from './chart.ts';
import { findSignals } from './signal-rules.ts';

/** Mean range of two standard normal values, as published: d2 for samples of two. Exactly 2/sqrt(pi) = 1.12838. */
export const RANGE_MEAN_OF_TWO = 1.128;
/** Upper 3 sigma limit of a range of two in units of the mean range, as published: D4 for samples of two. */
export const RANGE_UPPER_OF_TWO = 3.267;

export interface IndividualsChart extends ControlChart {
  /** Mean moving range over d2. */
  readonly sigma: number;
  /** The chart of ranges: point i is the distance of value i from the one before; the first has none. */
  readonly movingRange: {
    readonly points: readonly { readonly index: number; readonly value: number }[];
    readonly centre: number;
    readonly upper: number;
    /** Points whose range lies beyond the upper limit. */
    readonly signals: readonly number[];
  };
}

/**
 * Chart of individual values with moving ranges (XmR): centre = mean; sigma = mean moving range / 1.128, so that
 * limits stand at the mean plus and minus 2.66 mean moving ranges; the range chart's upper limit is 3.267 mean
 * ranges. Constants are the published ones, rounded as published.
 *
 * Source: Montgomery, Introduction to Statistical Quality Control, section 6.4 and appendix VI.
 *
 * @throws StatisticsError `empty`, `missing-value`, `not-finite`, `out-of-range` (fewer than two points in the
 * baseline, or a centre that is no number), `unknown-option`
 * @example individualsChart([5, 6, 5, 7, 6]).limits // { lower: 2.476, upper: 9.124 }
 */
export function individualsChart(
  data: ArrayLike<number> | { readonly value: ArrayLike<number> },
  options: ChartOptions = {},
): IndividualsChart {
  const values = finiteColumn('value', 'value' in data ? data.value : data);
  const n = values.length;
  const baseline = baselineLength(options, n, 2);
  const { rules = 'shewhart' } = options;
  let sum = 0;
  let ranges = 0;
  const moving: { index: number; value: number }[] = [];
  for (const [index, value] of values.entries()) {
    if (index < baseline) sum += value;
    if (index === 0) continue;
    const range = Math.abs(value - (values[index - 1] as number));
    moving.push({ index, value: range });
    if (index < baseline) ranges += range;
  }
  const centre = options.centre ?? sum / baseline;
  requireSize('centre', centre);
  const meanRange = ranges / (baseline - 1);
  const sigma = meanRange / RANGE_MEAN_OF_TWO;
  const lower = centre - 3 * sigma;
  const upper = centre + 3 * sigma;
  const rangeLimit = RANGE_UPPER_OF_TWO * meanRange;
  const constant = (value: number): Float64Array => new Float64Array(n).fill(value);
  return {
    points: Array.from(values, (value, index) => ({ index, value, centre, sigma, lower, upper })),
    centre,
    sigma,
    limits: { lower, upper },
    signals: findSignals(values, constant(centre), constant(sigma), rules),
    rules,
    baseline,
    movingRange: {
      points: moving,
      centre: meanRange,
      upper: rangeLimit,
      signals: moving.filter(point => point.value > rangeLimit).map(point => point.index),
    },
  };
}
