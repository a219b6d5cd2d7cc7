import type { QuarterChart } from '../analyses/quarter-chart.ts';
import { shareScale } from './chart-frame.ts';

/** The vertical scale of a control chart. */
export function controlChartScale(chart: QuarterChart) {
  const values = chart.points.flatMap(({ value, lower, upper }) => [value, lower, upper]);
  if (chart.kind === 'proportion') {
    return shareScale([...values, ...(chart.target === undefined ? [] : [chart.target])]);
  }
  // The limits of a quarter with little time at risk would flatten everything else; they are cut off at the top.
  const usual = median(chart.points.map(({ upper }) => upper));
  const seen = chart.points.map(({ value, upper }) => Math.max(value, Math.min(upper, usual * 1.25)));
  const highest = Math.max(...seen, Number.MIN_VALUE);
  const step = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100].find(size => highest / size <= 5) ?? highest / 4;
  const ticks = Array.from({ length: Math.ceil(highest / step) + 1 }, (_, i) => i * step);
  return {
    domain: [0, ticks.at(-1) ?? highest] as const,
    ticks,
    labels: ticks.map(tick => String(Number(tick.toFixed(1)))),
  };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}
