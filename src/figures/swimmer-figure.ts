import type { Course, CourseSample } from '../analyses/courses.ts';
import { EN_DASH, formatCount, formatTick, listInWords, NOTHING } from '../wording/format.ts';
import { chartFrame, type ChartLayer, plotWidthOf, TEXT_SIZES, tickLabels } from './chart-frame.ts';
import type { Figure, FigureWidth } from './figure.ts';
import { type KeyEntry, KEY_LINE, keyLayers, keyPlaces, type SymbolMark, symbolMark } from './key-layers.ts';
import { OCCUPANCY_SHADES, PAPER, RULE } from './palette.ts';

export interface SwimmerFigureOptions {
  readonly key: string;
  /** Where the drawing ends; courses that go on are cut there. */
  readonly lastWeek: number;
  readonly weekTicks: readonly number[];
}

const LANE = 13;
const BAR = 9;
/** What became of a foot stands so far behind its lane, in pixels. */
const BEHIND = 6;
/** From the axis to the key: tick labels and the title of the axis. */
const KEY_TOP = 56;

const CORRECTED: SymbolMark = { kind: 'symbol', shape: 'circle', filled: false };
const RELAPSED: SymbolMark = { kind: 'symbol', shape: 'triangle-down', filled: false };
const LEFT: SymbolMark = { kind: 'symbol', shape: 'cross', filled: true };
const GOING_ON: SymbolMark = { kind: 'symbol', shape: 'triangle-right', filled: true };

/**
 * A lane for each of some feet: its phases one after another, the longest hours darkest, with marks where it was first seen
 * corrected and where it relapsed, and at its end what became of it. A lane has no name and no number.
 *
 * @throws RangeError without a course
 */
export function swimmerFigure(sample: CourseSample, options: SwimmerFigureOptions): Figure {
  const { courses } = sample;
  if (courses.length === 0)
    throw new RangeError(`figure ${options.key} has no course; at least one is needed`);
  const title = `How therapy ran in ${formatCount(courses.length)} feet drawn at random`;
  const subtitle = `Phases of therapy by whole weeks; one foot of an infant at most, out of ${formatCount(sample.n)} feet of ${formatCount(sample.infants)} infants`;
  const words = { title, subtitle };
  const lines = courses.map(course => laneText(course));
  return {
    key: options.key,
    ...words,
    description: `${title}. ${subtitle}. From the lane at the top down: ${lines.join('; ')}.`,
    specs: {
      page: swimmerSpec(sample, words, options, 'page'),
      narrow: swimmerSpec(sample, words, options, 'narrow'),
    },
    values: {
      columns: [
        { label: 'Phases' },
        { label: 'First seen corrected', unit: 'week' },
        { label: 'Relapses', unit: 'weeks' },
        { label: 'End' },
      ],
      rows: courses.map(course => ({
        cells: [
          phasesText(course),
          course.corrected === undefined ? NOTHING : formatCount(course.corrected),
          course.relapses.length === 0 ? NOTHING : course.relapses.map(formatCount).join(', '),
          course.end,
        ],
      })),
    },
  };
}

function swimmerSpec(
  { courses, states }: CourseSample,
  words: { readonly title: string; readonly subtitle: string },
  { lastWeek, weekTicks }: SwimmerFigureOptions,
  width: FigureWidth,
): ReturnType<typeof chartFrame> {
  const size = TEXT_SIZES[width];
  const entries = keyEntries(states);
  const height = courses.length * LANE + 4;
  const bare = { left: 12, right: 16, bottom: 0, plotHeight: height };
  const places = keyPlaces(entries, plotWidthOf(width, bare), size);
  const keyHeight = Math.max(...places.map(({ y }) => y)) + KEY_LINE;
  const space = { ...bare, bottom: KEY_TOP + keyHeight };
  const ticks = weekTicks.filter(tick => tick <= lastWeek);
  return chartFrame(words, width, space, [
    axisLayer(ticks, lastWeek),
    stretchLayer(courses, states, lastWeek),
    symbolLayer(
      'corrected',
      CORRECTED,
      courses.map(({ corrected }) => (corrected === undefined ? [] : [corrected])),
      lastWeek,
    ),
    symbolLayer(
      'relapses',
      RELAPSED,
      courses.map(({ relapses }) => relapses),
      lastWeek,
    ),
    symbolLayer(
      'left',
      LEFT,
      courses.map(course => (course.end === 'left' ? [endOf(course)] : [])),
      lastWeek,
      BEHIND,
    ),
    symbolLayer(
      'in therapy',
      GOING_ON,
      courses.map(course => goingOn(course, lastWeek)),
      lastWeek,
      BEHIND,
    ),
    ...keyLayers(entries, places, { left: 0, top: height + KEY_TOP, size }),
  ]);
}

function keyEntries(states: readonly string[]): readonly KeyEntry[] {
  return [
    ...states.map((label, i): KeyEntry => ({ label, mark: { kind: 'swatch', colour: shadeOf(i) } })),
    { label: 'first seen corrected', mark: CORRECTED },
    { label: 'relapse', mark: RELAPSED },
    { label: 'referred or withdrawn', mark: LEFT },
    { label: 'goes on, or not followed further', mark: GOING_ON },
  ];
}

function axisLayer(ticks: readonly number[], lastWeek: number): ChartLayer {
  return {
    name: 'axes',
    data: { values: [{ week: 0 }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'week',
        type: 'quantitative',
        scale: { domain: [0, lastWeek], nice: false, zero: false },
        axis: {
          values: [...ticks],
          tickCount: ticks.length,
          labelExpr: tickLabels(ticks, ticks.map(formatTick)),
          labelFlush: false,
          grid: true,
          gridColor: RULE,
          title: 'Weeks since first fitting',
          titleAnchor: 'start',
          titlePadding: 2,
        },
      },
    },
  };
}

function stretchLayer(courses: readonly Course[], states: readonly string[], lastWeek: number): ChartLayer {
  return {
    name: 'stretches',
    data: {
      values: courses.flatMap(({ stretches }, lane) =>
        stretches.flatMap(({ state, from, to }) =>
          from >= lastWeek
            ? []
            : [
                {
                  week: from,
                  end: Math.min(to, lastWeek),
                  top: laneMiddle(lane) - BAR / 2,
                  bottom: laneMiddle(lane) + BAR / 2,
                  shade: shadeOf(states.indexOf(state)),
                },
              ],
        ),
      ),
    },
    mark: { type: 'rect', stroke: PAPER, strokeWidth: 0.75, opacity: 1 },
    encoding: {
      x: { field: 'week', type: 'quantitative' },
      x2: { field: 'end' },
      y: { field: 'top', type: 'quantitative', scale: null, axis: null },
      y2: { field: 'bottom' },
      color: { field: 'shade', type: 'nominal', scale: null },
    },
  };
}

/** Marks at weeks, by lane; those after the last week are left out. */
function symbolLayer(
  name: string,
  mark: SymbolMark,
  weeks: readonly (readonly number[])[],
  lastWeek: number,
  behind = 0,
): ChartLayer {
  return {
    name,
    data: {
      values: weeks.flatMap((ofLane, lane) =>
        ofLane.flatMap(week => (week > lastWeek ? [] : [{ week, lane: laneMiddle(lane) }])),
      ),
    },
    mark: { ...symbolMark(mark), xOffset: behind },
    encoding: {
      x: { field: 'week', type: 'quantitative' },
      y: { field: 'lane', type: 'quantitative', scale: null, axis: null },
    },
  };
}

/** Where a course is cut: at the edge of the drawing, or where the foot was last followed. */
function goingOn(course: Course, lastWeek: number): readonly number[] {
  const end = endOf(course);
  if (end > lastWeek) return [lastWeek];
  return course.end === 'in therapy' ? [end] : [];
}

function endOf({ stretches }: Course): number {
  return stretches.at(-1)?.to ?? 0;
}

function laneMiddle(lane: number): number {
  return (lane + 0.5) * LANE + 2;
}

/** Hours of which there are more than shades share the lightest that stands out from the paper. */
function shadeOf(state: number): string {
  return OCCUPANCY_SHADES[Math.min(Math.max(state, 0), 3)] ?? PAPER;
}

function phasesText({ stretches }: Course): string {
  if (stretches.length === 0) return 'less than a week';
  return stretches
    .map(({ state, from, to }) => `${state} ${formatCount(from)}${EN_DASH}${formatCount(to)}`)
    .join(', ');
}

function laneText(course: Course): string {
  const said = [
    ...(course.corrected === undefined ? [] : [`corrected in week ${formatCount(course.corrected)}`]),
    ...(course.relapses.length === 0
      ? []
      : [`relapse in week ${listInWords(course.relapses.map(formatCount))}`]),
    course.end,
  ];
  return `${phasesText(course)}, ${said.join(', ')}`;
}
