import type { QuarterChart } from '../analyses/quarter-chart.ts';
import {
  formatCount,
  formatNumber,
  formatPercentNumber,
  listInWords,
  NOTHING,
  THIN_SPACE,
} from '../wording/format.ts';
import {
  type ChartLayer,
  chartFrame,
  type FrameSpace,
  plotWidthOf,
  TEXT_SIZES,
  tickLabels,
} from './chart-frame.ts';
import {
  labelLayers,
  LANE_GAP,
  SIGNAL_COLOUR,
  sideLabels,
  sideLayers,
  TARGET_COLOUR,
  xOf,
} from './control-chart-labels.ts';
import type { Figure, FigureValues, FigureWidth } from './figure.ts';
import { INK, QUIET_INK } from './palette.ts';
import { type SignalLabel, signalLabels } from './signal-labels.ts';
import { textWidth } from './text-width.ts';
import { controlChartScale } from './control-chart-scale.ts';

const PLOT_HEIGHT = { page: 150, narrow: 140 } as const;

export interface ControlChartOptions {
  readonly key: string;
  /** States the finding; by default the rules that fired, or that none did. */
  readonly title?: string;
}

/**
 * A control chart over quarters: the points joined, the mean, each quarter's own limits as steps, the target where there
 * is one. A point at which a rule fired is a diamond, and a label above the plot names the rule.
 */
export function controlChartFigure(chart: QuarterChart, options: ControlChartOptions): Figure {
  const title = options.title ?? controlChartTitle(chart);
  const unit = chart.kind === 'proportion' ? '%' : chart.unit;
  const subtitle = `${chart.title}, ${unit}, by quarter; dashed: limits at 3 sigma`;
  const draw = (width: FigureWidth) => {
    const labels = signalLabels(
      [...chart.signals, ...chart.shifts],
      place => xOf(chart, place, plotWidthOf(width, spaceOf(chart, width, 0))),
      plotWidthOf(width, spaceOf(chart, width, 0)),
      TEXT_SIZES[width],
    );
    const lanes = Math.max(0, ...labels.map(({ lane }) => lane + 1));
    const space = spaceOf(chart, width, lanes);
    return chartFrame({ title, subtitle }, width, space, layersOf(chart, width, space, labels));
  };
  return {
    key: options.key,
    title,
    subtitle,
    description: descriptionOf(chart, title),
    specs: { page: draw('page'), narrow: draw('narrow') },
    values: valuesOf(chart, unit),
  };
}

/** Each quarter with a point: its value between its own limits, and the rules that fired there. */
function valuesOf(chart: QuarterChart, unit: string): FigureValues {
  const text = (value: number): string => formatNumber(value, chart.kind);
  const signals = [...chart.signals, ...chart.shifts];
  return {
    columns: [
      { label: 'Quarter' },
      { label: 'Value', unit },
      { label: 'Lower limit', unit },
      { label: 'Upper limit', unit },
      { label: 'Rule that fired' },
    ],
    rows: chart.points.map(({ place, value, lower, upper }) => {
      const rules = new Set(signals.filter(signal => signal.place === place).map(({ rule }) => rule));
      const quarter = chart.quarters[place] ?? NOTHING;
      return { cells: [quarter, ...[value, lower, upper].map(text), [...rules].join('; ') || NOTHING] };
    }),
  };
}

/** `Teach-back done: beyond 3 sigma in 2026-Q3`, or that no rule fired. */
export function controlChartTitle(chart: QuarterChart): string {
  const signals = [...chart.signals, ...chart.shifts];
  if (signals.length === 0) return `${chart.title}: no signal of change`;
  const rules = [...new Set(signals.map(({ rule }) => rule))].map(rule => {
    const places = [...new Set(signals.filter(own => own.rule === rule).map(({ place }) => place))];
    return `${rule} in ${listInWords(places.sort((a, b) => a - b).map(place => chart.quarters[place] ?? ''))}`;
  });
  return `${chart.title}: ${rules.join('; ')}`;
}

function spaceOf(chart: QuarterChart, width: FigureWidth, lanes: number): FrameSpace {
  const size = TEXT_SIZES[width];
  return {
    left: 40,
    right: Math.ceil(Math.max(...sideLabels(chart).map(({ text }) => textWidth(text, size)))) + 20,
    bottom: 50,
    plotHeight: PLOT_HEIGHT[width] + lanes * (size + LANE_GAP),
  };
}

function layersOf(
  chart: QuarterChart,
  width: FigureWidth,
  space: FrameSpace,
  labels: readonly SignalLabel[],
): readonly ChartLayer[] {
  const size = TEXT_SIZES[width];
  const plot = plotWidthOf(width, space);
  const scale = controlChartScale(chart);
  const fired = new Set([...chart.signals, ...chart.shifts].map(({ place }) => place));
  const points = chart.points.map(({ place, value, lower, upper }, i) => ({
    place,
    value,
    lower,
    upper,
    // No line across a quarter without a point: what lies there is not known.
    stretch: place - i,
  }));
  // Labels of signals stand inside the plot, above the scale.
  const top = space.plotHeight - PLOT_HEIGHT[width];
  const yOf = (value: number): number =>
    top + PLOT_HEIGHT[width] * (1 - (value - scale.domain[0]) / (scale.domain[1] - scale.domain[0]));
  return [
    axisLayer(chart, scale, [space.plotHeight, top]),
    ...(['lower', 'upper'] as const).map(limit => limitLayer(points, limit)),
    levelLayer('mean', chart.centre, INK, []),
    ...(chart.target === undefined ? [] : [levelLayer('target', chart.target, TARGET_COLOUR, [2, 2])]),
    {
      name: 'values',
      data: { values: points },
      mark: { type: 'line', color: INK, strokeWidth: 1.5 },
      encoding: {
        x: { field: 'place', type: 'quantitative' },
        y: { field: 'value', type: 'quantitative' },
        detail: { field: 'stretch' },
      },
    },
    pointLayer(
      'points',
      points.filter(({ place }) => !fired.has(place)),
      'circle',
      34,
      INK,
    ),
    pointLayer(
      'signals',
      points.filter(({ place }) => fired.has(place)),
      'diamond',
      130,
      SIGNAL_COLOUR,
    ),
    ...labels.flatMap(label => labelLayers(label, chart, plot, size, top, yOf)),
    ...sideLayers(chart, plot, size, yOf, space.plotHeight),
  ];
}

function axisLayer(
  chart: QuarterChart,
  scale: ReturnType<typeof controlChartScale>,
  range: readonly [number, number],
): ChartLayer {
  const places = chart.quarters.map((_, place) => place);
  return {
    name: 'axes',
    data: { values: [{ place: 0, value: scale.domain[0] }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'place',
        type: 'quantitative',
        scale: { domain: [-0.5, chart.quarters.length - 0.5], nice: false, zero: false },
        axis: {
          values: places,
          tickCount: places.length,
          labelExpr: tickLabels(places, chart.quarters.map(quarterLabel)),
          labelFlush: false,
          labelAlign: 'center',
          grid: false,
          title: null,
        },
      },
      y: {
        field: 'value',
        type: 'quantitative',
        scale: { domain: [...scale.domain], range: [...range], nice: false, zero: false },
        axis: {
          values: [...scale.ticks],
          tickCount: scale.ticks.length,
          labelExpr: tickLabels(scale.ticks, scale.labels),
          domain: false,
          ticks: false,
          labelPadding: 6,
          title: null,
        },
      },
    },
  };
}

/** `Q3`, with the year below it where it is the first one shown or the first of its year. */
function quarterLabel(name: string, place: number): readonly string[] {
  const [, year = '', number = ''] = /^(.*?)[- ](Q[1-4])$/.exec(name) ?? [];
  return [number, place === 0 || number === 'Q1' ? year : ''];
}

function limitLayer(
  points: readonly { readonly place: number; readonly lower: number; readonly upper: number }[],
  limit: 'lower' | 'upper',
): ChartLayer {
  return {
    name: `${limit} limit`,
    data: { values: [...points] },
    mark: {
      type: 'line',
      clip: true,
      interpolate: 'step',
      color: QUIET_INK,
      strokeWidth: 1,
      strokeDash: [5, 3],
    },
    encoding: {
      x: { field: 'place', type: 'quantitative' },
      y: { field: limit, type: 'quantitative' },
    },
  };
}

function levelLayer(name: string, level: number, colour: string, dash: readonly number[]): ChartLayer {
  return {
    name,
    data: { values: [{ level }] },
    mark: {
      type: 'rule',
      color: colour,
      strokeWidth: name === 'mean' ? 1 : 1.5,
      ...(dash.length > 0 ? { strokeDash: [...dash] } : {}),
    },
    encoding: { y: { field: 'level', type: 'quantitative' } },
  };
}

function pointLayer(
  name: string,
  values: readonly { readonly place: number; readonly value: number }[],
  shape: 'circle' | 'diamond',
  size: number,
  colour: string,
): ChartLayer {
  return {
    name,
    data: { values: [...values] },
    mark: { type: 'point', shape, size, filled: true, color: colour, opacity: 1 },
    encoding: {
      x: { field: 'place', type: 'quantitative' },
      y: { field: 'value', type: 'quantitative' },
    },
  };
}

function descriptionOf(chart: QuarterChart, title: string): string {
  const words = (value: number): string =>
    chart.kind === 'proportion' ? `${formatPercentNumber(value)}${THIN_SPACE}%` : formatNumber(value, 'rate');
  const points = chart.points.map(point => {
    const size =
      chart.kind === 'proportion'
        ? ` of ${formatCount(point.size)}`
        : ` (${formatCount(point.count)} events)`;
    return `${chart.quarters[point.place] ?? ''} ${words(point.value)}${size}, limits ${words(point.lower)} to ${words(point.upper)}`;
  });
  const levels = sideLabels(chart).map(({ text }) => text);
  return `${title}. ${chart.title}, ${chart.kind === 'proportion' ? 'shares' : chart.unit}: ${listInWords(levels)}. By quarter: ${points.join('; ')}.`;
}
