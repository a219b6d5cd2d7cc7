import type { TopLevelSpec } from 'vega-lite';
import { formatCount, formatInterval, formatTick, NOTHING, type NumberKind } from '../wording/format.ts';
import { FIGURE_WIDTHS, type Figure, type FigureWidth } from './figure.ts';
import { type ForestAxis, forestAxis } from './forest-axis.ts';
import { CHART_FACE, INK, PAPER, QUIET_INK, RULE } from './palette.ts';
import { textWidth, wrapText } from './text-width.ts';

/** One line of a forest plot: a group with its estimate, or the name of the state that stands in its place. */
export interface ForestRow {
  readonly label: string;
  readonly n?: number;
  readonly estimate?: number;
  readonly lower?: number;
  readonly upper?: number;
  readonly state?: string;
}

export interface ForestFigureOptions {
  readonly key: string;
  /** States the finding. */
  readonly title: string;
  /** Measure, unit, kind of interval. */
  readonly subtitle: string;
  readonly kind: NumberKind;
  /** Where there is no difference; drawn as an upright line. */
  readonly reference?: number;
  /** Ratios stand on a logarithmic scale. */
  readonly scale: 'linear' | 'log';
}

type Layer = Extract<TopLevelSpec, { readonly layer: unknown }>['layer'][number];

const ROW = 22;

/**
 * Estimates with their intervals, one a line, in the order given, with the numbers beside them. An interval that is not
 * known on a side runs to the edge of the plot.
 *
 * @throws RangeError without a row, or for an estimate of 0 or less on a logarithmic scale
 */
export function forestFigure(rows: readonly ForestRow[], options: ForestFigureOptions): Figure {
  if (rows.length === 0) throw new RangeError(`figure ${options.key} has no row; at least one is needed`);
  const axis = forestAxis(rows, options.scale, options.reference, options.key);
  const sized = rows.some(({ n }) => n !== undefined);
  const lines = rows.map(row => `${row.label}: ${valueText(row, options.kind)}${sizeText(row)}`);
  return {
    key: options.key,
    title: options.title,
    subtitle: options.subtitle,
    description: `${options.title}. ${options.subtitle}. ${lines.join('; ')}.`,
    specs: {
      page: forestSpec(rows, options, axis, 'page'),
      narrow: forestSpec(rows, options, axis, 'narrow'),
    },
    values: {
      columns: [{ label: 'Group' }, { label: 'Feet' }, { label: 'Estimate' }].filter(
        ({ label }) => label !== 'Feet' || sized,
      ),
      rows: rows.map(row => ({
        cells: [
          row.label,
          ...(sized ? [row.n === undefined ? NOTHING : formatCount(row.n)] : []),
          valueText(row, options.kind),
        ],
      })),
    },
  };
}

function forestSpec(
  rows: readonly ForestRow[],
  options: ForestFigureOptions,
  axis: ForestAxis,
  width: FigureWidth,
): TopLevelSpec {
  const total = FIGURE_WIDTHS[width];
  const size = width === 'page' ? 11.5 : 10.5;
  const values = rows.map(row => valueText(row, options.kind));
  const labels = rows.map(row => `${row.label}${sizeText(row)}`);
  const left = Math.ceil(Math.max(...labels.map(text => textWidth(text, size)))) + 16;
  const right = Math.ceil(Math.max(...values.map(text => textWidth(text, size)))) + 16;
  const titleLines = wrapText(options.title, total - 8, 15, 'bold');
  const subtitleLines = wrapText(options.subtitle, total - 8, 12);
  const plotWidth = Math.max(total - left - right, 80);
  const height = rows.length * ROW + 8;
  const y = (place: number): number => place * ROW + ROW / 2 + 4;
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    autosize: { type: 'none' },
    background: PAPER,
    width: plotWidth,
    height,
    padding: { left, right, top: titleLines.length * 20 + subtitleLines.length * 16 + 18, bottom: 34 },
    title: {
      text: [...titleLines],
      subtitle: [...subtitleLines],
      anchor: 'start',
      frame: 'group',
      dx: 4 - left,
      offset: 14,
      limit: 0,
      fontSize: 15,
      lineHeight: 20,
      color: INK,
      subtitleFontSize: 12,
      subtitleLineHeight: 16,
      subtitleColor: QUIET_INK,
      subtitlePadding: 4,
    },
    config: { font: CHART_FACE, view: { stroke: null } },
    layer: [
      axisLayer(axis, options.scale, size),
      ...(options.reference === undefined ? [] : [referenceLayer(options.reference)]),
      ...rows.flatMap((row, place) => rowLayers(row, axis, y(place))),
      ...labels.map((text, place) => textLayer(text, 4 - left, y(place), size)),
      ...values.map((text, place) => textLayer(text, plotWidth + 10, y(place), size)),
    ],
  };
}

function axisLayer(axis: ForestAxis, scale: 'linear' | 'log', size: number): Layer {
  return {
    name: 'axis',
    data: { values: [{ value: axis.domain[0] }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'value',
        type: 'quantitative',
        scale: {
          type: scale,
          domain: [...axis.domain],
          nice: false,
          ...(scale === 'linear' ? { zero: false } : {}),
        },
        axis: {
          values: [...axis.ticks],
          tickCount: axis.ticks.length,
          tickRound: false,
          labelOverlap: false,
          labelExpr: `${JSON.stringify(axis.ticks.map(formatTick))}[indexof(${JSON.stringify(axis.ticks)}, datum.value)]`,
          labelFlush: false,
          labelFontSize: size,
          labelColor: INK,
          grid: false,
          title: null,
          tickColor: INK,
          domainColor: INK,
        },
      },
    },
  };
}

function referenceLayer(reference: number): Layer {
  return {
    name: 'reference',
    data: { values: [{ value: reference }] },
    mark: { type: 'rule', color: RULE, strokeWidth: 1.5 },
    encoding: { x: { field: 'value', type: 'quantitative' } },
  };
}

function rowLayers(row: ForestRow, axis: ForestAxis, y: number): readonly Layer[] {
  if (row.estimate === undefined) return [];
  const values = [
    { estimate: row.estimate, lower: row.lower ?? axis.domain[0], upper: row.upper ?? axis.domain[1] },
  ];
  const interval: readonly Layer[] = [
    {
      name: `interval of ${row.label}`,
      data: { values },
      mark: { type: 'rule', color: INK, strokeWidth: 1.5 },
      encoding: {
        x: { field: 'lower', type: 'quantitative' },
        x2: { field: 'upper' },
        y: { value: y },
      },
    },
  ];
  return [
    // A group that the others are held against has no interval of its own.
    ...(row.lower === undefined && row.upper === undefined ? [] : interval),
    {
      name: `estimate of ${row.label}`,
      data: { values },
      mark: { type: 'point', shape: 'square', filled: true, color: INK, opacity: 1, size: 52 },
      encoding: { x: { field: 'estimate', type: 'quantitative' }, y: { value: y } },
    },
  ];
}

function textLayer(text: string, x: number, y: number, size: number): Layer {
  return {
    data: { values: [{ text }] },
    mark: { type: 'text', align: 'left', baseline: 'middle', color: INK, fontSize: size },
    encoding: { x: { value: x }, y: { value: y }, text: { field: 'text', type: 'nominal' } },
  };
}

function valueText(row: ForestRow, kind: NumberKind): string {
  if (row.estimate === undefined) return row.state ?? 'not known';
  return formatInterval(
    {
      estimate: row.estimate,
      ...(row.lower === undefined ? {} : { lower: row.lower }),
      ...(row.upper === undefined ? {} : { upper: row.upper }),
    },
    kind,
  );
}

function sizeText(row: ForestRow): string {
  return row.n === undefined ? '' : ` (n ${formatCount(row.n)})`;
}
