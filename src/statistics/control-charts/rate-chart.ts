import { StatisticsError } from '../errors.ts';
import { baselineLength, type ChartOptions, type ControlChart } from './chart.ts';
import { countChart, total } from './count-chart.ts';
import { countColumn, positiveColumn } from './counts.ts';

export interface RateChartData {
  /** Events in each period. */
  readonly events: ArrayLike<number>;
  /** Time at risk in each period, in any one unit. */
  readonly time: ArrayLike<number>;
}

/**
 * u chart: the rate of each period round the overall rate u, with limits u plus and minus 3 sqrt(u/t), t the
 * period's own time at risk, cut at 0.
 *
 * Source: Montgomery, Introduction to Statistical Quality Control, section 7.3.
 *
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`, `not-a-whole-number`; `out-of-range` for
 * a time not above 0, a negative centre, or the baseline; `unknown-option`
 * @example rateChart({ events: [4, 6, 5], time: [10, 12, 11] }).centre // 0.4545
 */
export function rateChart(data: RateChartData, options: ChartOptions = {}): ControlChart {
  const events = countColumn('events', data.events);
  const time = positiveColumn('time', data.time, events.length);
  const baseline = baselineLength(options, events.length, 1);
  const centre = options.centre ?? total(events, baseline) / total(time, baseline);
  if (!(centre >= 0 && centre <= 1e50)) {
    throw new StatisticsError('out-of-range', `centre is ${centre}; a number of 0 or more is needed`);
  }
  return countChart(events, time, centre, Math.sqrt(centre), Number.MAX_VALUE, baseline, options);
}
