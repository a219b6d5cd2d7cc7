import type { TopLevelSpec } from 'vega-lite';
import { formatPercentNumber } from '../wording/format.ts';
import { FIGURE_WIDTHS, type FigureWidth } from './figure.ts';
import { CHART_FACE, INK, PAPER, QUIET_INK, RULE } from './palette.ts';
import { wrapText } from './text-width.ts';

export type ChartLayer = Extract<TopLevelSpec, { readonly layer: unknown }>['layer'][number];

const TITLE_SIZE = 15;
const TITLE_LINE = 20;
const SUBTITLE_SIZE = 12;
const SUBTITLE_LINE = 16;

/** Type size of everything but the title, by width of the figure. */
export const TEXT_SIZES: Readonly<Record<FigureWidth, number>> = { page: 11.5, narrow: 10.5 };

export interface FrameSpace {
  readonly left: number;
  readonly right: number;
  /** Under the plot: axis, labels, sizes. */
  readonly bottom: number;
  readonly plotHeight: number;
}

/** Pixels between the subtitle and the plot. */
const GAP = 14;

/** Width of the plot in pixels. */
export function plotWidthOf(width: FigureWidth, { left, right }: FrameSpace): number {
  return FIGURE_WIDTHS[width] - left - right;
}

/** A chart in the house's page: title and subtitle on the left, white ground, quiet axes. */
export function chartFrame(
  words: { readonly title: string; readonly subtitle: string },
  width: FigureWidth,
  space: FrameSpace,
  layers: readonly ChartLayer[],
): TopLevelSpec {
  const total = FIGURE_WIDTHS[width];
  const titleLines = wrapText(words.title, total - 8, TITLE_SIZE, 'bold');
  const subtitleLines = wrapText(words.subtitle, total - 8, SUBTITLE_SIZE);
  const textSize = TEXT_SIZES[width];
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    autosize: { type: 'none' },
    background: PAPER,
    width: plotWidthOf(width, space),
    height: space.plotHeight,
    padding: {
      left: space.left,
      right: space.right,
      top: titleLines.length * TITLE_LINE + subtitleLines.length * SUBTITLE_LINE + 4 + GAP,
      bottom: space.bottom,
    },
    title: {
      text: [...titleLines],
      subtitle: [...subtitleLines],
      anchor: 'start',
      frame: 'group',
      dx: 4 - space.left,
      offset: GAP,
      limit: 0,
      fontSize: TITLE_SIZE,
      lineHeight: TITLE_LINE,
      color: INK,
      subtitleFontSize: SUBTITLE_SIZE,
      subtitleLineHeight: SUBTITLE_LINE,
      subtitleColor: QUIET_INK,
      subtitlePadding: 4,
    },
    config: {
      font: CHART_FACE,
      view: { stroke: null },
      axis: {
        labelFontSize: textSize,
        titleFontSize: textSize,
        labelColor: INK,
        titleColor: INK,
        titleFontWeight: 'normal',
        labelLimit: 0,
        titleLimit: 0,
        labelOverlap: false,
        tickRound: false,
        tickColor: INK,
        domainColor: INK,
        gridColor: RULE,
        gridOpacity: 0.6,
      },
    },
    layer: [...layers],
  };
}

/** One line of text at a place in pixels from the top left corner of the plot. */
export function textLayer(
  text: string,
  x: number,
  y: number,
  size: number,
  look: {
    readonly color?: string;
    readonly fontWeight?: 'bold';
    readonly align?: 'left' | 'center' | 'right';
    readonly stroke?: string;
    readonly strokeWidth?: number;
  } = {},
): ChartLayer {
  return {
    data: { values: [{ text }] },
    mark: { type: 'text', align: 'left', baseline: 'middle', color: INK, fontSize: size, ...look },
    encoding: { x: { value: x }, y: { value: y }, text: { field: 'text', type: 'nominal' } },
  };
}

/** The label of each tick as the formatter writes it, picked by its place among the ticks. */
export function tickLabels(
  ticks: readonly number[],
  labels: readonly (string | readonly string[])[],
): string {
  const span = Math.max(ticks.length - 1, 1);
  return `${JSON.stringify(labels)}[round(datum.index * ${span})]`;
}

/** Ticks of a scale of shares, in tenths, that spans the values given. */
export function shareScale(values: readonly number[]): {
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
  readonly labels: readonly string[];
} {
  const low = Math.min(9, Math.floor(Math.max(0, Math.min(...values)) * 10 + 1e-9));
  const high = Math.max(low + 1, Math.ceil(Math.min(1, Math.max(...values)) * 10 - 1e-9));
  const step = high - low > 5 ? 2 : 1;
  const first = step === 2 ? low - (low % 2) : low;
  const last = step === 2 ? Math.min(10, high + (high % 2)) : high;
  const tenths: number[] = [];
  for (let tenth = first; tenth <= last; tenth += step) tenths.push(tenth);
  const ticks = tenths.map(tenth => tenth / 10);
  return {
    domain: [first / 10, last / 10],
    ticks,
    labels: ticks.map(tick => formatPercentNumber(tick)),
  };
}
