import type { Plot, PlotSeries } from '../analyses/plots.ts';
import { formatCount, formatDecimal, formatLevel, formatTick, NOTHING } from '../wording/format.ts';
import {
  chartFrame,
  type ChartLayer,
  plotWidthOf,
  TEXT_SIZES,
  textLayer,
  tickLabels,
} from './chart-frame.ts';
import { capital } from './curve-words.ts';
import type { Figure, FigureValues, FigureWidth } from './figure.ts';
import { forestAxis, type ForestAxis } from './forest-axis.ts';
import { type LineMark, lineMarks, QUIET_INK, WHOLE_MARK } from './palette.ts';
import { placeLabels } from './place-labels.ts';
import { leaderLayer, referenceLayers, seriesLayers } from './plot-layers.ts';
import { textWidth } from './text-width.ts';

export interface PlotFigureOptions {
  readonly key: string;
  /** Confidence level of the limits. */
  readonly level: number;
  /** Ticks of the horizontal axis, such as weeks of checkups; those without room or beyond its end are left out. */
  readonly xTicks?: readonly number[];
}

const HEIGHT = 240;
const BOTTOM = 44;
const LABEL_GAP = 16;
const SHAPES = { points: 'points', line: 'line', steps: 'steps' } as const;

/**
 * The residuals or the fit of a model: points, lines and steps on linear axes, with what they would follow if the model
 * held. Lines stop at the last point, if there are points: beyond it nothing was seen. Groups are labelled at the right
 * end of their last series.
 *
 * @throws RangeError without a single value
 */
export function plotFigure(plot: Plot, options: PlotFigureOptions): Figure {
  const series = upToLastPoint(plot.series).map(withoutSecondBand);
  const across = series.flatMap(({ x }) => x);
  if (across.length === 0) throw new RangeError(`figure ${options.key} has no value; at least one is needed`);
  const marks = marksOf(series);
  const own = horizontalOf(plot, across, options.key);
  const x = options.xTicks === undefined ? own : { ...own, ticks: spacedTicks(options.xTicks, own.domain) };
  const y = forestAxis(heightsOf(plot, series), 'linear', undefined, options.key);
  const subtitle = subtitleOf(plot, series, options.level);
  return {
    key: options.key,
    title: plot.title,
    subtitle,
    description: `${plot.title}. ${subtitle}. ${plot.reading} ${formatCount(plot.n)} feet of ${formatCount(plot.infants)} infants.`,
    specs: {
      page: plotSpec(plot, series, marks, { x, y }, subtitle, 'page'),
      narrow: plotSpec(plot, series, marks, { x, y }, subtitle, 'narrow'),
    },
    values: plotValues(plot, series),
  };
}

function plotSpec(
  plot: Plot,
  series: readonly PlotSeries[],
  marks: readonly LineMark[],
  axes: { readonly x: ForestAxis; readonly y: ForestAxis },
  subtitle: string,
  width: FigureWidth,
): ReturnType<typeof chartFrame> {
  const size = TEXT_SIZES[width];
  const ends = groupEnds(series);
  const widest = Math.max(0, ...ends.map(({ group }) => textWidth(capital(group), size, 'bold')));
  const space = {
    left: 44,
    right: widest === 0 ? 16 : Math.ceil(widest) + 24,
    bottom: BOTTOM,
    plotHeight: HEIGHT,
  };
  const plotWidth = plotWidthOf(width, space);
  const [low, high] = axes.y.domain;
  const heights = ends.map(({ y }) => HEIGHT * (1 - (y - low) / (high - low)));
  const places = placeLabels(heights, LABEL_GAP, LABEL_GAP / 2, HEIGHT - LABEL_GAP / 2);
  return chartFrame({ title: plot.title, subtitle }, width, space, [
    axisLayer(plot, axes),
    ...referenceLayers(plot, axes),
    ...series.flatMap((one, i) => seriesLayers(one, marks[i] ?? WHOLE_MARK)),
    ...ends.flatMap(({ group, x, place }, i) => {
      const mark = marks[place] ?? WHOLE_MARK;
      const from = { x: ((x - axes.x.domain[0]) / (axes.x.domain[1] - axes.x.domain[0])) * plotWidth };
      const label = places[i] ?? 0;
      return [
        leaderLayer(group, mark, { ...from, y: heights[i] ?? 0 }, { x: plotWidth + 8, y: label }),
        textLayer(capital(group), plotWidth + 11, label, size, { color: mark.text, fontWeight: 'bold' }),
      ];
    }),
  ]);
}

/** From 0 to the last value, with whole ticks; as far as the tick after it where the diagonal has to be seen. */
function horizontalOf(plot: Plot, across: readonly number[], key: string): ForestAxis {
  const whole = forestAxis(
    [{ estimate: 0 }, ...across.map(estimate => ({ estimate }))],
    'linear',
    undefined,
    key,
  );
  const last = Math.max(...across);
  if (last <= 0 || plot.references.some(({ kind }) => kind === 'diagonal')) return whole;
  return { domain: [whole.domain[0], last], ticks: whole.ticks.filter(tick => tick <= last) };
}

/** The ticks within the axis, none nearer to the one before than a fifteenth of it. */
function spacedTicks(ticks: readonly number[], [from, to]: ForestAxis['domain']): readonly number[] {
  const kept: number[] = [];
  for (const tick of ticks) {
    const before = kept.at(-1);
    if (tick < from || tick > to) continue;
    if (before === undefined || tick - before >= (to - from) / 15) kept.push(tick);
  }
  return kept;
}

/** A layer that draws nothing and holds the two axes, which all other layers share. */
function axisLayer(plot: Plot, { x, y }: { readonly x: ForestAxis; readonly y: ForestAxis }): ChartLayer {
  const axis = ({ ticks }: ForestAxis): object => ({
    values: [...ticks],
    tickCount: ticks.length,
    labelExpr: tickLabels(ticks, ticks.map(formatTick)),
    labelFlush: false,
  });
  return {
    name: 'axes',
    data: { values: [{ x: x.domain[0], y: y.domain[0] }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'x',
        type: 'quantitative',
        scale: { domain: [...x.domain], nice: false, zero: false },
        axis: { ...axis(x), grid: false, title: plot.x.label, titleAnchor: 'start', titlePadding: 6 },
      },
      y: {
        field: 'y',
        type: 'quantitative',
        scale: { domain: [...y.domain], nice: false, zero: false },
        axis: { ...axis(y), grid: true, domain: false, ticks: false, labelPadding: 6, title: null },
      },
    },
  };
}

/** Where points are the data, a line carried on beyond the last of them shows what nobody saw. */
function upToLastPoint(series: readonly PlotSeries[]): readonly PlotSeries[] {
  const last = Math.max(...series.filter(({ shape }) => shape === 'points').flatMap(({ x }) => x));
  if (!Number.isFinite(last)) return series;
  return series.map(one => {
    const kept = one.x.flatMap((at, i) => (at <= last ? [i] : []));
    const cut = <T>(values: readonly T[]): T[] => kept.flatMap(i => values.slice(i, i + 1));
    return {
      ...one,
      x: cut(one.x),
      y: cut(one.y),
      ...(one.lower === undefined ? {} : { lower: cut(one.lower) }),
      ...(one.upper === undefined ? {} : { upper: cut(one.upper) }),
    };
  });
}

/** Two bands a group would lie on each other; the one of what was seen is kept. */
function withoutSecondBand(series: PlotSeries): PlotSeries {
  if (series.group === undefined || series.shape !== 'line') return series;
  const { lower: _lower, upper: _upper, ...line } = series;
  return line;
}

/** Marks by group where there are groups; else ink for the line and quiet ink for what it smooths or fits. */
function marksOf(series: readonly PlotSeries[]): readonly LineMark[] {
  const byGroup = lineMarks(series.map(({ group }) => group ?? 'all'));
  return series.map(({ group, shape }, i) => {
    if (group === undefined) return shape === 'points' ? { ...WHOLE_MARK, colour: QUIET_INK } : WHOLE_MARK;
    const mark = byGroup[i] ?? WHOLE_MARK;
    // The observed steps are thin and solid, so that the fitted line of the group keeps the group's own dash.
    const fitted = series.some(other => other.group === group && other.shape === 'line');
    return shape === 'steps' && fitted ? { ...mark, width: 1, dash: [] } : mark;
  });
}

function heightsOf(
  plot: Plot,
  series: readonly PlotSeries[],
): readonly { readonly estimate?: number; readonly lower?: number; readonly upper?: number }[] {
  const levels = plot.references.flatMap(reference =>
    reference.kind === 'level' ? [{ estimate: reference.y }] : [],
  );
  const limits = series.flatMap(({ lower = [], upper = [] }) =>
    [...lower, ...upper].flatMap(limit => (limit === undefined ? [] : [{ estimate: limit }])),
  );
  return [...levels, ...limits, ...series.flatMap(({ y }) => y.map(estimate => ({ estimate })))];
}

interface GroupEnd {
  readonly group: string;
  readonly x: number;
  readonly y: number;
  /** Place of the series. */
  readonly place: number;
}

/** The end of the last series of each group. */
function groupEnds(series: readonly PlotSeries[]): readonly GroupEnd[] {
  const ends = new Map<string, GroupEnd>();
  for (const [place, { group, ...at }] of series.entries()) {
    const x = at.x.at(-1);
    const y = at.y.at(-1);
    if (group !== undefined && x !== undefined && y !== undefined) ends.set(group, { group, x, y, place });
  }
  return [...ends.values()];
}

/** What the vertical axis shows, then what each kind of mark stands for. */
function subtitleOf(plot: Plot, series: readonly PlotSeries[], level: number): string {
  const meanings = new Map<string, string>();
  for (const { shape, label, group } of series) {
    const own = group === undefined ? label : label.replace(`${group}, `, '');
    meanings.set(`${SHAPES[shape]}: ${own.toLowerCase()}`, '');
  }
  const levels = plot.references.flatMap(reference =>
    reference.kind === 'level' ? [`level rule: ${reference.label}`] : ['diagonal: where the model holds'],
  );
  const grouped = series.some(({ group }) => group !== undefined);
  const limited = series.some(({ lower }) => lower?.some(limit => limit !== undefined) === true);
  return [
    plot.y.label,
    ...meanings.keys(),
    ...(limited ? [`shaded: ${formatLevel(level)} limits${grouped ? ' of the steps' : ''}`] : []),
    ...levels,
  ].join('; ');
}

/** Every series at every place of the horizontal axis where one of them has a value. */
function plotValues(plot: Plot, series: readonly PlotSeries[]): FigureValues {
  const places = [...new Set(series.flatMap(({ x }) => x))].sort((a, b) => a - b);
  const columns = series.map(({ x, y }) => new Map(x.map((at, i) => [at, y[i]])));
  return {
    columns: [{ label: plot.x.label }, ...series.map(({ label }) => ({ label: capital(label) }))],
    rows: places.map(at => ({
      at,
      cells: [
        formatDecimal(at, 2),
        ...columns.map(column => {
          const value = column.get(at);
          return value === undefined ? NOTHING : formatDecimal(value, 2);
        }),
      ],
    })),
  };
}
