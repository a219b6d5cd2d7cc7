import type { OccupancyShares } from '../analyses/occupancy-shares.ts';
import { formatCount, formatPercentNumber, formatTick, NOTHING, THIN_SPACE } from '../wording/format.ts';
import { isHidden } from '../wording/hidden-count.ts';
import {
  chartFrame,
  type ChartLayer,
  plotWidthOf,
  TEXT_SIZES,
  textLayer,
  tickLabels,
} from './chart-frame.ts';
import { capital } from './curve-words.ts';
import type { Figure, FigureWidth } from './figure.ts';
import { INK, OCCUPANCY_SHADES, PAPER, QUIET_INK } from './palette.ts';
import { placeLabels } from './place-labels.ts';
import { leaderLayer } from './plot-layers.ts';
import { textWidth } from './text-width.ts';

export interface OccupancyFigureOptions {
  readonly key: string;
  /** Weeks with a tick; those beyond the last week are left out. */
  readonly weekTicks: readonly number[];
  /** The week that the title speaks of, or the last one if there is no such week. */
  readonly titleWeek: number;
}

const HEIGHT = 240;
const LABEL_GAP = 16;
/** Least space between two ticks with their counts, in pixels. */
const TICK_GAP = 30;

/**
 * The shares of feet in each state by week as stacked areas, the longest hours at the bottom, in one hue from dark to
 * light, labelled at the right; under the axis the feet still in therapy.
 *
 * @throws RangeError without a week, or with more states than shades
 */
export function occupancyFigure(shares: OccupancyShares, options: OccupancyFigureOptions): Figure {
  if (shares.week.length === 0)
    throw new RangeError(`figure ${options.key} has no week; at least one is needed`);
  if (shares.states.length > OCCUPANCY_SHADES.length) {
    throw new RangeError(
      `figure ${options.key} has ${shares.states.length} states; at most ${OCCUPANCY_SHADES.length} are allowed`,
    );
  }
  const title = titleOf(shares, options.titleWeek);
  const subtitle = `Share of ${groupWords(shares.group)} in each state at the end of the week, %; ${formatCount(shares.n)} feet of ${formatCount(shares.infants)} infants`;
  return {
    key: options.key,
    title,
    subtitle,
    description: `${title}. ${subtitle}.`,
    specs: {
      page: occupancySpec(shares, { title, subtitle }, options, 'page'),
      narrow: occupancySpec(shares, { title, subtitle }, options, 'narrow'),
    },
    values: {
      columns: [
        { label: 'Week' },
        ...shares.states.map(state => ({ label: capital(state), unit: '%' })),
        { label: 'In therapy', unit: 'feet' },
      ],
      rows: shares.week.map((week, i) => ({
        at: week,
        cells: [
          formatCount(week),
          ...shares.states.map((_, state) => {
            const share = shares.share[state]?.[i];
            return share === undefined
              ? NOTHING
              : formatPercentNumber(share, isHidden(shares.n) ? undefined : shares.n);
          }),
          formatCount(shares.inTherapy[i] ?? 0),
        ],
      })),
    },
  };
}

function occupancySpec(
  shares: OccupancyShares,
  words: { readonly title: string; readonly subtitle: string },
  options: OccupancyFigureOptions,
  width: FigureWidth,
): ReturnType<typeof chartFrame> {
  const size = TEXT_SIZES[width];
  const labels = shares.states.map(capital);
  const widest = Math.max(...labels.map(text => textWidth(text, size)));
  const space = { left: 44, right: Math.ceil(widest) + 24, bottom: 72, plotHeight: HEIGHT };
  const plotWidth = plotWidthOf(width, space);
  const last = Math.max(shares.week.at(-1) ?? 0, 1);
  const ticks = spacedTicks(options.weekTicks, last, plotWidth);
  const middles = shares.states.map((_, state) => {
    const [from, to] = edges(shares, shares.week.length - 1, state);
    return HEIGHT * (1 - (from + to) / 2);
  });
  const places = placeLabels(middles, LABEL_GAP, LABEL_GAP / 2, HEIGHT - LABEL_GAP / 2);
  const end = ((shares.week.at(-1) ?? 0) / last) * plotWidth;
  return chartFrame(words, width, space, [
    axisLayer(last, ticks),
    ...shares.states.map((state, i) => areaLayer(shares, state, i)),
    ...labels.flatMap((label, i) => {
      const place = places[i] ?? 0;
      const mark = { colour: QUIET_INK, text: INK, width: 1, dash: [] };
      return [
        leaderLayer(label, mark, { x: end, y: middles[i] ?? 0 }, { x: plotWidth + 8, y: place }),
        textLayer(label, plotWidth + 11, place, size),
      ];
    }),
    textLayer('Feet in therapy', 4 - space.left, HEIGHT + 44, size, { color: QUIET_INK }),
    ...ticks.flatMap(tick => {
      const place = shares.week.indexOf(tick);
      const count = formatCount(shares.inTherapy[place] ?? 0);
      return place < 0
        ? []
        : [textLayer(count, (tick / last) * plotWidth, HEIGHT + 60, size, { align: 'center' })];
    }),
  ]);
}

function axisLayer(last: number, ticks: readonly number[]): ChartLayer {
  const heights = [0, 0.25, 0.5, 0.75, 1];
  return {
    name: 'axes',
    data: { values: [{ week: 0, share: 0 }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'week',
        type: 'quantitative',
        scale: { domain: [0, last], nice: false, zero: false },
        axis: {
          values: [...ticks],
          tickCount: ticks.length,
          labelExpr: tickLabels(ticks, ticks.map(formatTick)),
          labelFlush: false,
          grid: false,
          title: 'Weeks since first fitting',
          titleAnchor: 'start',
          titlePadding: 2,
        },
      },
      y: {
        field: 'share',
        type: 'quantitative',
        scale: { domain: [0, 1], nice: false },
        axis: {
          values: heights,
          tickCount: heights.length,
          labelExpr: tickLabels(
            heights,
            heights.map(height => formatPercentNumber(height)),
          ),
          domain: false,
          ticks: false,
          labelPadding: 6,
          title: null,
        },
      },
    },
  };
}

/** One state between the sum of the shares before it and that sum with its own; a white edge keeps neighbours apart. */
function areaLayer(shares: OccupancyShares, state: string, place: number): ChartLayer {
  return {
    name: `area of ${state}`,
    data: {
      values: shares.week.map((week, i) => {
        const [from, to] = edges(shares, i, place);
        return { week, from, to };
      }),
    },
    mark: {
      type: 'area',
      color: OCCUPANCY_SHADES[place] ?? PAPER,
      opacity: 1,
      line: { color: PAPER, strokeWidth: 1 },
    },
    encoding: {
      x: { field: 'week', type: 'quantitative' },
      y: { field: 'to', type: 'quantitative' },
      y2: { field: 'from' },
    },
  };
}

function edges(shares: OccupancyShares, week: number, state: number): readonly [number, number] {
  const from = shares.share.slice(0, state).reduce((sum, ofState) => sum + (ofState[week] ?? 0), 0);
  const to = from + (shares.share[state]?.[week] ?? 0);
  // To the precision of a drawing: sums of shares are no numbers of the finding.
  return [drawn(from), drawn(to)];
}

function drawn(share: number): number {
  return Math.round(Math.min(share, 1) * 1e4) / 1e4;
}

/** From the left, the ticks with room for their counts. */
function spacedTicks(weekTicks: readonly number[], last: number, width: number): readonly number[] {
  const kept: number[] = [];
  for (const tick of [...new Set([...weekTicks, last])].sort((a, b) => a - b)) {
    const before = kept.at(-1);
    if (tick <= last && (before === undefined || ((tick - before) / last) * width >= TICK_GAP))
      kept.push(tick);
  }
  return kept;
}

function titleOf(shares: OccupancyShares, titleWeek: number): string {
  const found = shares.week.indexOf(titleWeek);
  const place = found < 0 ? shares.week.length - 1 : found;
  const said = shares.states.flatMap((state, i) => {
    const share = shares.share[i]?.[place];
    if (share === undefined || (i > 0 && state !== 'finished')) return [];
    const words = state === 'finished' ? 'had finished' : `were at ${state}`;
    return [
      `${formatPercentNumber(share, isHidden(shares.n) ? undefined : shares.n)}${THIN_SPACE}% ${words}`,
    ];
  });
  return `At week ${formatCount(shares.week[place] ?? 0)}, of ${groupWords(shares.group)} ${said.join(' and ')}`;
}

function groupWords(group: string): string {
  return group === 'all' ? 'all feet' : `${group} feet`;
}
