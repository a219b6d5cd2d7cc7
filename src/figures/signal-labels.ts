import type { ChartSignal } from '../analyses/quarter-chart.ts';
import { textWidth } from './text-width.ts';

/** A label of a rule, over the latest point of a row at which it fired. */
export interface SignalLabel {
  readonly place: number;
  readonly text: string;
  /** Centre of the text, in pixels from the left of the plot. */
  readonly x: number;
  /** Lines above the plot, 0 nearest to it. */
  readonly lane: number;
}

const GAP = 10;

/**
 * One label a rule and side for each unbroken row of points at which it fired, in as few lines as keep them apart.
 *
 * @param xOf pixels from the left of the plot, by place of the quarter
 */
export function signalLabels(
  signals: readonly ChartSignal[],
  xOf: (place: number) => number,
  plotWidth: number,
  size: number,
): readonly SignalLabel[] {
  const right: number[] = [];
  return latestOfRows(signals).map(({ rule, place }) => {
    const half = textWidth(rule, size, 'bold') / 2;
    const x = Math.max(half, Math.min(xOf(place), plotWidth - half));
    let lane = right.findIndex(end => x - half >= end + GAP);
    if (lane < 0) lane = right.length;
    right[lane] = x + half;
    return { place, text: rule, x, lane };
  });
}

/** By place; of neighbouring places with the same rule and side, the last. */
function latestOfRows(signals: readonly ChartSignal[]): readonly ChartSignal[] {
  const goesOn = ({ rule, side, place }: ChartSignal): boolean =>
    signals.some(next => next.rule === rule && next.side === side && next.place === place + 1);
  return signals.filter(signal => !goesOn(signal)).sort((a, b) => a.place - b.place);
}
