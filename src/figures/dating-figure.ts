import type { Plot, PlotSeries } from '../analyses/plots.ts';
import { formatCount, formatPercentNumber, formatTick, NOTHING } from '../wording/format.ts';
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
import { INK, type LineMark, lineMarks, QUIET_INK, WHOLE_MARK } from './palette.ts';

export interface DatingFigureOptions {
  readonly key: string;
  /** States the finding. */
  readonly title: string;
  /** Weeks with a tick in every panel; those without room are left out. */
  readonly weekTicks: readonly number[];
}

const HEIGHT = 230;
/** The top of the vertical scale: above the whole there is room for the name of the band. */
const TOP = 1.1;
const PANEL_GAP: Readonly<Record<FigureWidth, number>> = { page: 26, narrow: 16 };
const TICK_GAP = 20;
/** Values are read off with the decimals of a large number of feet. */
const DECIMALS_OF = 1000;

/**
 * For each band a panel: the share corrected as checkups date it (the line of the band), the stretch from at least to
 * at most that the time between checkups leaves open (grey), and the model for it (dotted).
 *
 * @param plots one for each band, with series whose keys begin with `seen.`, `between.` and `weibull.`
 * @throws RangeError without a plot that has a value
 */
export function datingFigure(plots: readonly Plot[], options: DatingFigureOptions): Figure {
  const drawn = plots.filter(({ series }) => series.some(({ x }) => x.length > 0));
  const lastWeek = Math.ceil(
    Math.max(0, ...drawn.flatMap(({ series }) => series.flatMap(({ x }) => x.slice(-1)))),
  );
  if (drawn.length === 0 || lastWeek === 0) {
    throw new RangeError(`figure ${options.key} has no value; at least one is needed`);
  }
  const sizes = drawn
    .map(plot => `${formatCount(plot.n)} feet of ${formatCount(plot.infants)} infants (${groupOf(plot)})`)
    .join('; ');
  const subtitle = `Share of feet corrected, %, other ends censored; line: seen at a checkup; grey: from at least to at most, allowing for the time between checkups; dotted: Weibull model of it`;
  const words = { title: options.title, subtitle };
  return {
    key: options.key,
    ...words,
    description: `${options.title}. ${subtitle}. n: ${sizes}. ${drawn[0]?.reading ?? ''}`,
    specs: {
      page: datingSpec(drawn, words, options.weekTicks, lastWeek, 'page'),
      narrow: datingSpec(drawn, words, options.weekTicks, lastWeek, 'narrow'),
    },
    values: datingValues(drawn, lastWeek),
  };
}

function datingSpec(
  plots: readonly Plot[],
  words: { readonly title: string; readonly subtitle: string },
  weekTicks: readonly number[],
  lastWeek: number,
  width: FigureWidth,
): ReturnType<typeof chartFrame> {
  const size = TEXT_SIZES[width];
  const space = { left: 36, right: 14, bottom: 76, plotHeight: HEIGHT };
  const plotWidth = plotWidthOf(width, space);
  // One scale for all panels: each is shifted by whole weeks, those of a panel and of the gap after it.
  const gap = Math.ceil((PANEL_GAP[width] / (plotWidth / plots.length)) * lastWeek);
  const pitch = lastWeek + gap;
  const weekWidth = plotWidth / ((plots.length - 1) * pitch + lastWeek);
  const ticks = spacedTicks(weekTicks, lastWeek, lastWeek * weekWidth);
  const marks = lineMarks(plots.map(groupOf));
  const left = plots.map((_, i) => i * pitch * weekWidth);
  return chartFrame(words, width, { ...space }, [
    axisLayer(plots.length, ticks, pitch, lastWeek),
    ...plots.flatMap((plot, i) => [
      ...gridLayers(i * pitch, lastWeek),
      ...panelLayers(plot, marks[i] ?? WHOLE_MARK, i * pitch),
      textLayer(capital(groupOf(plot)), left[i] ?? 0, 7, size, {
        color: (marks[i] ?? WHOLE_MARK).text,
        fontWeight: 'bold',
      }),
      textLayer(
        `n: ${formatCount(plot.n)} feet of ${formatCount(plot.infants)}`,
        left[i] ?? 0,
        HEIGHT + 50,
        size,
        { color: QUIET_INK },
      ),
      textLayer('infants', left[i] ?? 0, HEIGHT + 50 + size + 3, size, { color: QUIET_INK }),
    ]),
  ]);
}

function axisLayer(panels: number, ticks: readonly number[], pitch: number, lastWeek: number): ChartLayer {
  const shifted = Array.from({ length: panels }, (_, i) => ticks.map(tick => i * pitch + tick)).flat();
  const labels = Array.from({ length: panels }, () => ticks.map(formatTick)).flat();
  const heights = [0, 0.25, 0.5, 0.75, 1];
  return {
    name: 'axes',
    data: { values: [{ week: 0, share: 0 }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'week',
        type: 'quantitative',
        scale: { domain: [0, (panels - 1) * pitch + lastWeek], nice: false, zero: false },
        axis: {
          values: shifted,
          tickCount: shifted.length,
          labelExpr: tickLabels(shifted, labels),
          labelFlush: false,
          grid: false,
          domain: false,
          title: 'Weeks since first fitting',
          titleAnchor: 'start',
          titlePadding: 2,
        },
      },
      y: {
        field: 'share',
        type: 'quantitative',
        scale: { domain: [0, TOP], nice: false },
        axis: {
          values: heights,
          tickCount: heights.length,
          labelExpr: tickLabels(
            heights,
            heights.map(height => formatPercentNumber(height)),
          ),
          domain: false,
          grid: false,
          ticks: false,
          labelPadding: 6,
          title: null,
        },
      },
    },
  };
}

/** The quarters of the height across one panel, and its axis. */
function gridLayers(shift: number, lastWeek: number): readonly ChartLayer[] {
  return [0, 0.25, 0.5, 0.75, 1].map(
    (share): ChartLayer => ({
      data: { values: [{ week: shift, end: shift + lastWeek, share }] },
      mark: {
        type: 'rule',
        color: share === 0 ? INK : QUIET_INK,
        strokeWidth: 1,
        opacity: share === 0 ? 1 : 0.2,
      },
      encoding: {
        x: { field: 'week', type: 'quantitative' },
        x2: { field: 'end' },
        y: { field: 'share', type: 'quantitative' },
      },
    }),
  );
}

function panelLayers({ series }: Plot, mark: LineMark, shift: number): readonly ChartLayer[] {
  return ['between.', 'weibull.', 'seen.'].flatMap(kind =>
    series.filter(({ key }) => key.startsWith(kind)).map(one => seriesLayer(one, kind, mark, shift)),
  );
}

function seriesLayer(series: PlotSeries, kind: string, mark: LineMark, shift: number): ChartLayer {
  const week = { field: 'place', type: 'quantitative' } as const;
  const transform = [{ calculate: `datum.week + ${shift}`, as: 'place' }];
  if (kind === 'between.') {
    return {
      name: series.key,
      data: {
        values: series.x.map((x, i) => ({
          week: x,
          atLeast: series.lower?.[i] ?? series.y[i] ?? 0,
          atMost: series.upper?.[i] ?? series.y[i] ?? 0,
        })),
      },
      transform,
      mark: {
        type: 'area',
        interpolate: 'step-after',
        color: QUIET_INK,
        opacity: 0.35,
        line: { color: QUIET_INK, strokeWidth: 0.75 },
      },
      encoding: { x: week, y: { field: 'atLeast', type: 'quantitative' }, y2: { field: 'atMost' } },
    };
  }
  const model = kind === 'weibull.';
  return {
    name: series.key,
    data: { values: series.x.map((x, i) => ({ week: x, share: series.y[i] ?? 0 })) },
    transform,
    mark: {
      type: 'line',
      interpolate: model ? 'linear' : 'step-after',
      color: model ? INK : mark.colour,
      strokeWidth: model ? 1.25 : mark.width,
      ...(model ? { strokeDash: [1.5, 3] } : mark.dash.length > 0 ? { strokeDash: [...mark.dash] } : {}),
    },
    encoding: { x: week, y: { field: 'share', type: 'quantitative' } },
  };
}

/** Every series of every band at whole weeks, read as steps or as the model gives it. */
function datingValues(plots: readonly Plot[], lastWeek: number): FigureValues {
  const weeks = Array.from({ length: Math.floor(lastWeek) + 1 }, (_, week) => week);
  const columns = plots.flatMap(plot => {
    const group = groupOf(plot);
    return plot.series.flatMap(({ key, x, y, upper }) => {
      const column = (label: string, heights: readonly (number | undefined)[]) => ({
        label: `${capital(group)}: ${label}`,
        cells: weeks.map(week => heightAt(x, heights, week)),
      });
      if (key.startsWith('seen.')) return [column('seen', y)];
      if (key.startsWith('weibull.')) return [column('model', y)];
      return [column('at least', y), column('at most', upper ?? y)];
    });
  });
  return {
    columns: [{ label: 'Week' }, ...columns.map(({ label }) => ({ label, unit: '%' }))],
    rows: weeks.map((week, i) => ({
      at: week,
      cells: [formatCount(week), ...columns.map(({ cells }) => cells[i] ?? NOTHING)],
    })),
  };
}

/** The last height at or before a week; a dash after the end of the series. */
function heightAt(x: readonly number[], heights: readonly (number | undefined)[], week: number): string {
  if (week > (x.at(-1) ?? -1)) return NOTHING;
  const height = heights[x.findLastIndex(at => at <= week)];
  return height === undefined ? NOTHING : formatPercentNumber(height, DECIMALS_OF);
}

function groupOf({ key, series }: Plot): string {
  return series.find(({ group }) => group !== undefined)?.group ?? key;
}

function spacedTicks(weekTicks: readonly number[], last: number, width: number): readonly number[] {
  const kept: number[] = [];
  for (const tick of weekTicks) {
    const before = kept.at(-1);
    if (tick <= last && (before === undefined || ((tick - before) / last) * width >= TICK_GAP))
      kept.push(tick);
  }
  return kept;
}
