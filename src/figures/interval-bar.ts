import type { StandardResult } from '../analyses/standard-result.ts';
import {
  formatCount,
  formatInterval,
  formatLevel,
  formatPercent,
  formatPercentNumber,
  formatShare,
  NOTHING,
  THIN_SPACE,
} from '../wording/format.ts';
import {
  type ChartLayer,
  chartFrame,
  type FrameSpace,
  plotWidthOf,
  TEXT_SIZES,
  textLayer,
  tickLabels,
} from './chart-frame.ts';
import type { Figure, FigureValues, FigureWidth } from './figure.ts';
import { INK, QUIET_INK, RULE } from './palette.ts';
import { textWidth } from './text-width.ts';

const TARGET_COLOUR = '#A84A00';
const TICKS = [0, 0.25, 0.5, 0.75, 1];
/** Height of one standard: one line of text, or on a telephone a line above the bar. */
const ROW = { page: 21, narrow: 42 } as const;

export interface IntervalBarOptions {
  readonly key: string;
  /** States the finding. */
  readonly title: string;
  readonly level: number;
}

/**
 * A thin bar a standard: the share as a dot, its interval as a line, the target as an upright tick, the verdict as
 * words. The dot is a diamond where the standard was not met and hollow where there are too few to say.
 */
export function intervalBarFigure(
  results: readonly StandardResult[],
  { key, title, level }: IntervalBarOptions,
): Figure {
  const subtitle = `Share of what fell due, %. Line: ${formatLevel(level)} interval; upright tick: target`;
  const draw = (width: FigureWidth) => {
    const space = spaceOf(results, width);
    return chartFrame({ title, subtitle }, width, space, layersOf(results, width, space));
  };
  return {
    key,
    title,
    subtitle,
    description: `${title}. ${results.map(resultInWords).join(' ')}`,
    specs: { page: draw('page'), narrow: draw('narrow') },
    values: valuesOf(results, level),
  };
}

/** Each standard with its share, its target and the verdict. */
function valuesOf(results: readonly StandardResult[], level: number): FigureValues {
  return {
    columns: [
      { label: 'Standard' },
      { label: 'Fell due', unit: 'feet' },
      { label: `Share (${formatLevel(level)} interval)`, unit: '%' },
      { label: 'Target', unit: '%' },
      { label: 'Verdict' },
    ],
    rows: results.map(result => ({
      cells: [
        result.title,
        formatCount(result.n),
        result.share === undefined ? NOTHING : formatInterval(result.share, 'proportion'),
        `${result.direction} ${formatPercentNumber(result.target)}`,
        wordsOf(result),
      ],
    })),
  };
}

function spaceOf(results: readonly StandardResult[], width: FigureWidth): FrameSpace {
  const size = TEXT_SIZES[width];
  const widest = (texts: readonly string[], weight: 'regular' | 'bold' = 'regular'): number =>
    Math.ceil(Math.max(0, ...texts.map(text => textWidth(text, size, weight))));
  const titles = widest(results.map(result => result.title));
  const words = widest(results.map(wordsOf), 'bold');
  const sizes = widest(results.map(sizeOf));
  return {
    left: width === 'page' ? titles + 22 : 16,
    right: width === 'page' ? words + sizes + 42 : words + 22,
    bottom: 34,
    plotHeight: results.length * ROW[width],
  };
}

function layersOf(
  results: readonly StandardResult[],
  width: FigureWidth,
  space: FrameSpace,
): readonly ChartLayer[] {
  const size = TEXT_SIZES[width];
  const plot = plotWidthOf(width, space);
  const rows = results.flatMap((result, i): readonly ChartLayer[] => {
    const top = i * ROW[width];
    const y = width === 'page' ? top + ROW.page / 2 : top + 29;
    const words =
      width === 'page'
        ? [
            textLayer(result.title, 4 - space.left, y, size),
            textLayer(sizeOf(result), plot + space.right - 8, y, size, { align: 'right', color: QUIET_INK }),
          ]
        : [textLayer(`${result.title}, ${sizeOf(result)}`, 4 - space.left, top + 13, size)];
    return [
      ...words,
      textLayer(
        wordsOf(result),
        plot + 14,
        y,
        size,
        result.verdict === 'not met' ? { fontWeight: 'bold' } : {},
      ),
      targetLayer(result, y),
      ...shareLayers(result, y),
    ];
  });
  return [axisLayer(), ...separators(results.length, plot, width, space), ...rows];
}

function axisLayer(): ChartLayer {
  return {
    name: 'axes',
    data: { values: [{ share: 0 }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'share',
        type: 'quantitative',
        scale: { domain: [0, 1], nice: false },
        axis: {
          values: [...TICKS],
          tickCount: TICKS.length,
          labelExpr: tickLabels(
            TICKS,
            TICKS.map(tick => formatPercent(tick).replace(`${THIN_SPACE}%`, '')),
          ),
          labelFlush: false,
          labelAlign: 'center',
          title: null,
        },
      },
    },
  };
}

function separators(
  rows: number,
  plot: number,
  width: FigureWidth,
  space: FrameSpace,
): readonly ChartLayer[] {
  return Array.from({ length: rows - 1 }, (_, i) => ({
    data: { values: [{}] },
    mark: { type: 'rule', color: RULE, strokeWidth: 0.5 },
    encoding: {
      x: { value: 4 - space.left },
      x2: { value: plot + space.right - 8 },
      y: { value: (i + 1) * ROW[width] },
    },
  }));
}

function targetLayer(result: StandardResult, y: number): ChartLayer {
  return {
    name: `target of ${result.key}`,
    data: { values: [{ target: result.target }] },
    mark: { type: 'rule', color: TARGET_COLOUR, strokeWidth: 2.5 },
    encoding: {
      x: { field: 'target', type: 'quantitative' },
      y: { value: y - 8 },
      y2: { value: y + 8 },
    },
  };
}

function shareLayers(result: StandardResult, y: number): readonly ChartLayer[] {
  if (result.share === undefined) return [];
  const { estimate, lower, upper } = result.share;
  return [
    {
      name: `interval of ${result.key}`,
      data: { values: [{ lower, upper }] },
      mark: { type: 'rule', color: INK, strokeWidth: 1.5 },
      encoding: {
        x: { field: 'lower', type: 'quantitative' },
        x2: { field: 'upper' },
        y: { value: y },
      },
    },
    {
      name: `share of ${result.key}`,
      data: { values: [{ estimate }] },
      mark: {
        type: 'point',
        shape: result.verdict === 'not met' ? 'diamond' : 'circle',
        size: result.verdict === 'not met' ? 80 : 42,
        filled: true,
        fill: result.verdict === 'too few to say' ? '#ffffff' : INK,
        stroke: INK,
        strokeWidth: 1.5,
        opacity: 1,
      },
      encoding: { x: { field: 'estimate', type: 'quantitative' }, y: { value: y } },
    },
  ];
}

function wordsOf(result: StandardResult): string {
  return result.n === 0 ? 'nothing fell due' : result.verdict;
}

function sizeOf(result: StandardResult): string {
  return formatShare(result.count, result.n);
}

function resultInWords(result: StandardResult): string {
  const target = `target ${result.direction} ${formatPercent(result.target)}`;
  if (result.share === undefined) return `${result.title}: nothing fell due, ${target}.`;
  return `${result.title}: ${formatInterval(result.share, 'proportion')}${THIN_SPACE}% of ${result.n}, ${target}: ${result.verdict}.`;
}
