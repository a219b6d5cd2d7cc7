import { StatisticsError } from '../errors.ts';
import { baselineLength, type ChartOptions, type ControlChart } from './chart.ts';
import { countChart, total } from './count-chart.ts';
import { countColumn, positiveColumn } from './counts.ts';

export interface ProportionChartData {
  /** Events in each period. */
  readonly events: ArrayLike<number>;
  /** How many could have had one; may differ between periods. */
  readonly n: ArrayLike<number>;
}

/**
 * p chart: the share of each period round the overall share p, with limits p plus and minus 3 sqrt(p (1 - p)/n),
 * each period's own n, cut at 0 and 1.
 *
 * Source: Montgomery, Introduction to Statistical Quality Control, section 7.2.
 *
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`, `not-a-whole-number`; `out-of-range` for
 * n of 0, more events than n, a centre outside 0 to 1, or the baseline; `unknown-option`
 * @example proportionChart({ events: [8, 9, 7], n: [10, 12, 9] }).centre // 0.7742
 */
export function proportionChart(data: ProportionChartData, options: ChartOptions = {}): ControlChart {
  const events = countColumn('events', data.events);
  const size = positiveColumn('n', data.n, events.length);
  for (const [i, count] of events.entries()) {
    if (!Number.isInteger(size[i])) {
      throw new StatisticsError('not-a-whole-number', `n[${i}] is ${size[i]}; a whole number is needed`);
    }
    if (count > (size[i] as number)) {
      throw new StatisticsError(
        'out-of-range',
        `events[${i}] is ${count}; at most n (${size[i]}) is possible`,
      );
    }
  }
  const baseline = baselineLength(options, events.length, 1);
  const centre = options.centre ?? total(events, baseline) / total(size, baseline);
  if (!(centre >= 0 && centre <= 1)) {
    throw new StatisticsError('out-of-range', `centre is ${centre}; 0 to 1 is needed`);
  }
  return countChart(events, size, centre, Math.sqrt(centre * (1 - centre)), 1, baseline, options);
}
