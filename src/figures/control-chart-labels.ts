import type { QuarterChart } from '../analyses/quarter-chart.ts';
import { formatNumber, formatPercentNumber, THIN_SPACE } from '../wording/format.ts';
import { type ChartLayer, textLayer } from './chart-frame.ts';
import { INK, RULE } from './palette.ts';
import { placeLabels } from './place-labels.ts';
import type { SignalLabel } from './signal-labels.ts';

export const SIGNAL_COLOUR = '#A84A00';
export const TARGET_COLOUR = '#005C91';
/** Between two labels of signals above each other. */
export const LANE_GAP = 4;

/** Pixels from the left of the plot to the middle of a quarter. */
export function xOf(chart: QuarterChart, place: number, plot: number): number {
  return ((place + 0.5) / chart.quarters.length) * plot;
}

/** The rule above the plot and a thin line down to its point. */
export function labelLayers(
  label: SignalLabel,
  chart: QuarterChart,
  plot: number,
  size: number,
  top: number,
  yOf: (value: number) => number,
): readonly ChartLayer[] {
  const y = top - size / 2 - 4 - label.lane * (size + LANE_GAP);
  const value = chart.points.find(({ place }) => place === label.place)?.value ?? chart.centre;
  const x = xOf(chart, label.place, plot);
  return [
    {
      name: `leader of ${label.text} at ${label.place}, line ${label.lane}`,
      data: { values: [{}] },
      mark: { type: 'rule', color: SIGNAL_COLOUR, strokeWidth: 0.75 },
      encoding: { x: { value: x }, y: { value: y + size / 2 }, y2: { value: yOf(value) - 8 } },
    },
    textLayer(label.text, label.x, y, size, { align: 'center', color: SIGNAL_COLOUR, fontWeight: 'bold' }),
  ];
}

export function sideLabels(
  chart: QuarterChart,
): readonly { readonly text: string; readonly value: number }[] {
  const words = (value: number): string =>
    chart.kind === 'proportion' ? `${formatPercentNumber(value)}${THIN_SPACE}%` : formatNumber(value, 'rate');
  return [
    { text: `mean ${words(chart.centre)}`, value: chart.centre },
    ...(chart.target === undefined ? [] : [{ text: `target ${words(chart.target)}`, value: chart.target }]),
  ];
}

export function sideLayers(
  chart: QuarterChart,
  plot: number,
  size: number,
  yOf: (value: number) => number,
  height: number,
): readonly ChartLayer[] {
  const labels = sideLabels(chart);
  const places = placeLabels(
    labels.map(({ value }) => yOf(value)),
    size + 3,
    size / 2,
    height - size / 2,
  );
  return labels.flatMap(({ text, value }, i): readonly ChartLayer[] => [
    {
      data: { values: [{}] },
      mark: { type: 'rule', color: RULE, strokeWidth: 0.75 },
      encoding: {
        x: { value: plot },
        x2: { value: plot + 6 },
        y: { value: yOf(value) },
        y2: { value: places[i] ?? yOf(value) },
      },
    },
    textLayer(text, plot + 9, places[i] ?? 0, size, {
      color: text.startsWith('target') ? TARGET_COLOUR : INK,
    }),
  ]);
}
