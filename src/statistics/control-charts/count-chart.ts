import type { ChartOptions, ControlChart } from './chart.ts';
import { findSignals } from './signal-rules.ts';

/** A chart of counts over sizes, with the limits of each point's own size, cut at 0 and at the ceiling. */
export function countChart(
  events: Float64Array,
  size: Float64Array,
  centre: number,
  spread: number,
  ceiling: number,
  baseline: number,
  options: ChartOptions,
): ControlChart {
  const { rules = 'shewhart' } = options;
  const values = events.map((count, i) => count / (size[i] as number));
  const sigma = size.map(value => spread / Math.sqrt(value));
  const points = Array.from(values, (value, index) => {
    const width = 3 * (sigma[index] as number);
    return {
      index,
      value,
      centre,
      sigma: sigma[index] as number,
      lower: Math.max(0, centre - width),
      upper: Math.min(ceiling, centre + width),
    };
  });
  const first = points[0];
  const same = first !== undefined && size.every(value => value === size[0]);
  return {
    points,
    centre,
    ...(same ? { limits: { lower: first.lower, upper: first.upper } } : {}),
    signals: findSignals(values, new Float64Array(values.length).fill(centre), sigma, rules),
    rules,
    baseline,
  };
}

/** The sum of the first values. */
export function total(column: Float64Array, length: number): number {
  let sum = 0;
  for (let i = 0; i < length; i++) sum += column[i] as number;
  return sum;
}
