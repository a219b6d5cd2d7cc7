import { formatCount, formatPercentNumber, NOTHING, THIN_SPACE } from '../wording/format.ts';
import { type Count, isHidden, shortCount } from '../wording/hidden-count.ts';
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
import { CALENDAR_SHADES, INK, PAPER, QUIET_INK } from './palette.ts';
import { textWidth } from './text-width.ts';

/** One week of therapy: the feet with data and, by class from the top row down, how many; undefined where not told. */
export interface CalendarWeek {
  readonly week: number;
  readonly feet: number;
  readonly counts: readonly (Count | undefined)[];
}

export interface AdherenceCalendarOptions {
  readonly key: string;
  /** Rows from the top down. */
  readonly classes: readonly string[];
  /** States the finding. */
  readonly title: string;
  readonly infants: Count;
  /** Weeks with fewer feet than this keep their column, without shade or number: their shares say little. */
  readonly minimumFeet: number;
}

const CELL_HEIGHT = 30;
/** Least width of a cell in which its percentage is printed. */
const PRINTED_FROM = 20;
/** Least space between the counts of two ticks. */
const COUNT_GAP = 5;

/**
 * A calendar of adherence: a column for each week since first fitting, a row for each class, and in each cell the share of
 * the feet with data in that week, darker the greater it is, and in numbers where there is room. No single foot shows.
 *
 * @throws RangeError without a week
 */
export function adherenceCalendar(weeks: readonly CalendarWeek[], options: AdherenceCalendarOptions): Figure {
  if (weeks.length === 0) throw new RangeError(`figure ${options.key} has no week; at least one is needed`);
  const subtitle = `Share of the feet with data, % of each week; a darker cell is a greater share; ${formatCount(Math.max(...weeks.map(({ feet }) => feet)))} feet at most, of ${formatCount(options.infants)} infants`;
  const words = { title: options.title, subtitle };
  return {
    key: options.key,
    ...words,
    description: `${options.title}. ${subtitle}. ${descriptionOf(weeks, options.classes)}`,
    specs: {
      page: calendarSpec(weeks, words, options, 'page'),
      narrow: calendarSpec(weeks, words, options, 'narrow'),
    },
    values: {
      columns: [
        { label: 'Week' },
        { label: 'With data', unit: 'feet' },
        ...options.classes.map(label => ({ label: capital(label), unit: '%' })),
      ],
      rows: weeks.map(({ week, feet, counts }) => ({
        at: week,
        cells: [
          formatCount(week),
          formatCount(feet),
          ...options.classes.map((_, row) => shareText(counts[row], feet)),
        ],
      })),
    },
  };
}

function calendarSpec(
  weeks: readonly CalendarWeek[],
  words: { readonly title: string; readonly subtitle: string },
  { classes, minimumFeet }: AdherenceCalendarOptions,
  width: FigureWidth,
): ReturnType<typeof chartFrame> {
  const size = TEXT_SIZES[width];
  const height = classes.length * CELL_HEIGHT;
  const widest = Math.max(...classes.map(text => textWidth(capital(text), size)));
  const space = { left: Math.ceil(widest) + 14, right: 10, bottom: 66, plotHeight: height };
  const plotWidth = plotWidthOf(width, space);
  const first = Math.min(...weeks.map(({ week }) => week));
  const last = Math.max(...weeks.map(({ week }) => week));
  const cell = plotWidth / (last - first + 1);
  const middle = (week: number): number => (week - first + 0.5) * cell;
  const widestCount = Math.max(...weeks.map(({ feet }) => textWidth(formatCount(feet), size)));
  const ticks = tickWeeks(first, last, cell, widestCount + COUNT_GAP);
  return chartFrame(words, width, space, [
    axisLayer(ticks, [first, last + 1]),
    cellLayer(weeks, classes, minimumFeet),
    ...classes.map((text, row) => textLayer(capital(text), 4 - space.left, (row + 0.5) * CELL_HEIGHT, size)),
    ...(cell < PRINTED_FROM ? [] : numberLayers(weeks, middle, size - 1, minimumFeet)),
    textLayer('Feet with data', 4 - space.left, height + 52, size, { color: QUIET_INK }),
    ...ticks.flatMap(tick => {
      const feet = weeks.find(({ week }) => week === tick)?.feet;
      return feet === undefined
        ? []
        : [textLayer(formatCount(feet), middle(tick), height + 52, size, { align: 'center' })];
    }),
  ]);
}

/** The axis holds the weeks as stretches, with the tick in the middle of each. */
function axisLayer(ticks: readonly number[], domain: readonly [number, number]): ChartLayer {
  const middles = ticks.map(tick => tick + 0.5);
  return {
    name: 'axes',
    data: { values: [{ week: domain[0] }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'week',
        type: 'quantitative',
        scale: { domain: [...domain], nice: false, zero: false },
        axis: {
          values: middles,
          tickCount: middles.length,
          labelExpr: tickLabels(middles, ticks.map(formatCount)),
          labelFlush: false,
          grid: false,
          domain: false,
          title: 'Week since first fitting',
          titleAnchor: 'start',
          titlePadding: 2,
        },
      },
    },
  };
}

function cellLayer(
  weeks: readonly CalendarWeek[],
  classes: readonly string[],
  minimumFeet: number,
): ChartLayer {
  return {
    name: 'cells',
    data: {
      values: weeks.flatMap(({ week, feet, counts }) =>
        classes.map((_, row) => ({
          week,
          end: week + 1,
          top: row * CELL_HEIGHT,
          bottom: (row + 1) * CELL_HEIGHT,
          shade: shadeOf(counts[row], feet, minimumFeet),
        })),
      ),
    },
    mark: { type: 'rect', stroke: PAPER, strokeWidth: 1, opacity: 1 },
    encoding: {
      x: { field: 'week', type: 'quantitative' },
      x2: { field: 'end' },
      y: { field: 'top', type: 'quantitative', scale: null, axis: null },
      y2: { field: 'bottom' },
      color: { field: 'shade', type: 'nominal', scale: null },
    },
  };
}

function numberLayers(
  weeks: readonly CalendarWeek[],
  middle: (week: number) => number,
  size: number,
  minimumFeet: number,
): readonly ChartLayer[] {
  return weeks.flatMap(({ week, feet, counts }) =>
    counts.flatMap((count, row): readonly ChartLayer[] => {
      if (count === undefined || feet < minimumFeet) return [];
      const at = [middle(week), (row + 0.5) * CELL_HEIGHT] as const;
      if (isHidden(count)) {
        return [textLayer(shortCount(count), ...at, size, { align: 'center', color: QUIET_INK })];
      }
      const dark = CALENDAR_SHADES.indexOf(shadeOf(count, feet, minimumFeet)) >= FIRST_DARK;
      return [
        textLayer(shortShare(count, feet), ...at, size, { align: 'center', color: dark ? PAPER : INK }),
      ];
    }),
  );
}

/** The first shade on which white is read more easily than ink. */
const FIRST_DARK = 4;

/** One shade for each fifth of the feet; paper for none, for a hidden count, and for weeks of too few feet. */
function shadeOf(count: Count | undefined, feet: number, minimumFeet: number): string {
  if (typeof count !== 'number' || count === 0 || feet < minimumFeet) return CALENDAR_SHADES[0] ?? PAPER;
  const place = Math.min(Math.floor((count / feet) * 5), 4);
  return CALENDAR_SHADES[place + 1] ?? INK;
}

/** A cell is too narrow for the sign of a share that rounds to nothing. */
function shortShare(count: number, feet: number): string {
  const text = formatPercentNumber(count / feet);
  return text.replaceAll(THIN_SPACE, '');
}

function shareText(count: Count | undefined, feet: number): string {
  if (isHidden(count)) return shortCount(count);
  return count === undefined || feet === 0 ? NOTHING : formatPercentNumber(count / feet, feet);
}

function percentOf(count: Count | undefined, feet: number): string {
  return typeof count === 'number' ? `${shareText(count, feet)}${THIN_SPACE}%` : (count ?? 'not told');
}

function descriptionOf(weeks: readonly CalendarWeek[], classes: readonly string[]): string {
  const at = [weeks[0], weeks[Math.floor(weeks.length / 2)], weeks.at(-1)];
  const lines = [...new Set(at)].flatMap(one => {
    if (one === undefined) return [];
    const said = classes.map((text, row) => `${text} ${percentOf(one.counts[row], one.feet)}`);
    return [`Week ${formatCount(one.week)} (${formatCount(one.feet)} feet): ${said.join(', ')}.`];
  });
  return lines.join(' ');
}

function tickWeeks(first: number, last: number, cell: number, room: number): readonly number[] {
  const spacing = [1, 2, 4, 8, 13].find(step => step * cell >= room) ?? 26;
  const ticks: number[] = [];
  for (let week = first; week <= last; week++) if (week % spacing === 0) ticks.push(week);
  // The first week has a tick if the next one leaves room for its count.
  const next = ticks[0] ?? Infinity;
  return next > first && (next - first) * cell >= room ? [first, ...ticks] : ticks;
}
