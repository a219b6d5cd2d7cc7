import type { FunnelUnit, UnitFunnel } from '../analyses/unit-funnel.ts';
import {
  formatDecimal,
  formatPercent,
  formatPercentNumber,
  formatShare,
  formatTick,
  THIN_SPACE,
} from '../wording/format.ts';
import {
  type ChartLayer,
  chartFrame,
  type FrameSpace,
  plotWidthOf,
  shareScale,
  TEXT_SIZES,
  textLayer,
  tickLabels,
} from './chart-frame.ts';
import type { Figure, FigureWidth } from './figure.ts';
import { funnelValues } from './funnel-values.ts';
import { INK, PAPER, QUIET_INK } from './palette.ts';
import { placeLabels } from './place-labels.ts';
import { textWidth } from './text-width.ts';

const BEYOND_COLOUR = '#A84A00';
const PLOT_HEIGHT = { page: 260, narrow: 230 } as const;
const SHAPES = { site: 'square', clinician: 'triangle-up' } as const;

/** States the finding; by default which sites and clinicians lie outside. */
export interface FunnelOptions {
  readonly key: string;
  readonly title?: string;
  readonly period: string;
}

/**
 * A funnel: the share of each site (square) and clinician (triangle) against its size, with the limits round the centre.
 * One outside the limits is filled and larger, and named with the limit it passed; sites inside are named too.
 */
export function funnelFigure(funnel: UnitFunnel, options: FunnelOptions): Figure {
  const title = options.title ?? funnelTitle(funnel);
  const subtitle = `${funnel.title}, %, by number that fell due, ${options.period}. Squares: sites; triangles: clinicians; filled: outside the limits`;
  const draw = (width: FigureWidth) => {
    const space = spaceOf(width);
    return chartFrame({ title, subtitle }, width, space, layersOf(funnel, width, space));
  };
  return {
    key: options.key,
    title,
    subtitle,
    description: descriptionOf(funnel, title),
    specs: { page: draw('page'), narrow: draw('narrow') },
    values: funnelValues(funnel),
  };
}

export function funnelTitle(funnel: UnitFunnel): string {
  const beyond = funnel.units.filter(unit => unit.beyond !== undefined);
  if (beyond.length === 0) return `${funnel.title}: no site or clinician outside the limits`;
  return `${funnel.title}: ${beyond.map(unit => `${unit.code} ${unit.beyond?.side ?? ''} the ${unit.beyond?.limit ?? ''} limit`).join('; ')}`;
}

function spaceOf(width: FigureWidth): FrameSpace {
  return { left: 40, right: 96, bottom: 52, plotHeight: PLOT_HEIGHT[width] };
}

interface Scale {
  readonly x: readonly [number, number];
  readonly xTicks: readonly number[];
  readonly y: ReturnType<typeof shareScale>;
}

/** The axis of shares spans the results and the limits at their sizes; the wide mouth of the funnel is cut off. */
function scaleOf(funnel: UnitFunnel): Scale {
  const largest = funnel.limits.at(-1)?.n ?? 1;
  const step =
    [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000].find(size => largest / size <= 6) ?? 10_000;
  const values = funnel.units.flatMap(({ value, outer }) => [value, outer.lower, outer.upper]);
  return {
    x: [0, largest],
    xTicks: Array.from({ length: Math.floor(largest / step) + 1 }, (_, i) => i * step),
    y: shareScale([...values, funnel.centre]),
  };
}

function layersOf(funnel: UnitFunnel, width: FigureWidth, space: FrameSpace): readonly ChartLayer[] {
  const scale = scaleOf(funnel);
  const plot = plotWidthOf(width, space);
  const size = TEXT_SIZES[width];
  const outside = (unit: FunnelUnit): boolean => unit.beyond !== undefined;
  return [
    axisLayer(scale),
    ...(['inner', 'outer'] as const).flatMap(kind => limitLayers(funnel, kind)),
    {
      name: 'centre',
      data: { values: [{ centre: funnel.centre }] },
      mark: { type: 'rule', color: INK, strokeWidth: 1 },
      encoding: { y: { field: 'centre', type: 'quantitative' } },
    },
    ...unitLabels(funnel, scale, plot, space.plotHeight, size),
    ...(['site', 'clinician'] as const).flatMap(kind => [
      unitLayer(
        kind,
        funnel.units.filter(unit => unit.kind === kind && !outside(unit)),
        false,
      ),
      unitLayer(
        kind,
        funnel.units.filter(unit => unit.kind === kind && outside(unit)),
        true,
      ),
    ]),
    ...sideLabels(funnel, scale, plot, space.plotHeight, size),
  ];
}

function axisLayer(scale: Scale): ChartLayer {
  return {
    name: 'axes',
    data: { values: [{ n: 0, value: scale.y.domain[0] }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'n',
        type: 'quantitative',
        scale: { domain: [...scale.x], nice: false },
        axis: {
          values: [...scale.xTicks],
          tickCount: scale.xTicks.length,
          labelExpr: tickLabels(scale.xTicks, scale.xTicks.map(formatTick)),
          labelFlush: false,
          labelAlign: 'center',
          grid: false,
          title: 'Number that fell due',
          titleAnchor: 'start',
          titlePadding: 6,
        },
      },
      y: {
        field: 'value',
        type: 'quantitative',
        scale: { domain: [...scale.y.domain], nice: false, zero: false },
        axis: {
          values: [...scale.y.ticks],
          tickCount: scale.y.ticks.length,
          labelExpr: tickLabels(scale.y.ticks, scale.y.labels),
          domain: false,
          ticks: false,
          labelPadding: 6,
          title: null,
        },
      },
    },
  };
}

function limitLayers(funnel: UnitFunnel, kind: 'inner' | 'outer'): readonly ChartLayer[] {
  return (['lower', 'upper'] as const).map(side => ({
    name: `${kind} ${side} limit`,
    data: { values: funnel.limits.map(limit => ({ n: limit.n, value: limit[kind][side] })) },
    mark: {
      type: 'line',
      clip: true,
      color: QUIET_INK,
      strokeWidth: kind === 'inner' ? 1 : 1.25,
      ...(kind === 'inner' ? { strokeDash: [5, 3] } : {}),
    },
    encoding: {
      x: { field: 'n', type: 'quantitative' },
      y: { field: 'value', type: 'quantitative' },
    },
  }));
}

function unitLayer(kind: FunnelUnit['kind'], units: readonly FunnelUnit[], beyond: boolean): ChartLayer {
  return {
    name: `${kind}s ${beyond ? 'outside' : 'within'}`,
    data: { values: units.map(({ code, count, n, value }) => ({ code, count, n, value })) },
    mark: {
      type: 'point',
      shape: SHAPES[kind],
      size: beyond ? 120 : 56,
      filled: true,
      fill: beyond ? BEYOND_COLOUR : PAPER,
      stroke: beyond ? BEYOND_COLOUR : INK,
      strokeWidth: 1.5,
      opacity: 1,
    },
    encoding: {
      x: { field: 'n', type: 'quantitative' },
      y: { field: 'value', type: 'quantitative' },
    },
  };
}

/** Names of sites, and of clinicians outside the limits, beside their marks and moved apart where they would touch. */
function unitLabels(
  funnel: UnitFunnel,
  scale: Scale,
  plot: number,
  height: number,
  size: number,
): readonly ChartLayer[] {
  const named = funnel.units
    .filter(unit => unit.kind === 'site' || unit.beyond !== undefined)
    .map(unit => nameOf(unit, scale, plot, height, size));
  return (['left', 'right'] as const).flatMap(align => {
    const own = named.filter(name => name.align === align);
    const places = placeLabels(
      own.map(({ y }) => y),
      size + 3,
      size / 2,
      height - size / 2,
    );
    return own.flatMap(({ unit, text, x, y }, i): readonly ChartLayer[] => {
      const place = places[i] ?? y;
      const look = {
        align,
        ...(unit.beyond === undefined ? {} : { color: BEYOND_COLOUR, fontWeight: 'bold' as const }),
      };
      return [
        // A rim of paper keeps the name readable where it crosses a line.
        textLayer(text, x, place, size, { ...look, stroke: PAPER, strokeWidth: 3 }),
        textLayer(text, x, place, size, look),
      ];
    });
  });
}

/** A name stands on the side of its mark with room for it; with room on neither, above or below it. */
function nameOf(unit: FunnelUnit, scale: Scale, plot: number, height: number, size: number) {
  const text = unit.beyond === undefined ? unit.code : `${unit.code}, beyond ${unit.beyond.limit}`;
  const width = textWidth(text, size, unit.beyond === undefined ? 'regular' : 'bold');
  const mark = (unit.n / scale.x[1]) * plot;
  const y = yOf(unit.value, scale, height);
  const gap = 10;
  if (mark + gap + width <= plot) return { unit, text, align: 'left' as const, x: mark + gap, y };
  if (mark - gap - width >= 0) return { unit, text, align: 'right' as const, x: mark - gap, y };
  const away = y > height - 2 * size ? -size - 3 : size + 3;
  return {
    unit,
    text,
    align: 'right' as const,
    x: Math.max(width, Math.min(plot, mark + width / 2)),
    y: y + away,
  };
}

/** What the lines are, at their right ends. */
function sideLabels(
  funnel: UnitFunnel,
  scale: Scale,
  plot: number,
  height: number,
  size: number,
): readonly ChartLayer[] {
  const last = funnel.limits.at(-1);
  if (last === undefined) return [];
  const lines = [
    { text: '99.8 %', value: last.outer.upper },
    { text: '95 %', value: last.inner.upper },
    {
      text: `${funnel.centreIs === 'overall' ? 'all' : 'target'} ${formatPercent(funnel.centre)}`,
      value: funnel.centre,
    },
    { text: '95 %', value: last.inner.lower },
    { text: '99.8 %', value: last.outer.lower },
  ];
  const places = placeLabels(
    lines.map(({ value }) => yOf(value, scale, height)),
    size + 2,
    size / 2,
    height - size / 2,
  );
  return lines.map(({ text }, i) => textLayer(text, plot + 9, places[i] ?? 0, size, { color: QUIET_INK }));
}

function yOf(value: number, { y }: Scale, height: number): number {
  return height * (1 - (value - y.domain[0]) / (y.domain[1] - y.domain[0]));
}

function descriptionOf(funnel: UnitFunnel, title: string): string {
  const units = funnel.units.map(unit => {
    const limits = `95 % limits ${formatPercentNumber(unit.inner.lower)} to ${formatPercentNumber(unit.inner.upper)}${THIN_SPACE}%`;
    const where =
      unit.beyond === undefined ? 'within the limits' : `${unit.beyond.side} the ${unit.beyond.limit} limit`;
    return `${unit.kind} ${unit.code} ${formatShare(unit.count, unit.n)}, ${limits}, ${where}`;
  });
  const dispersion = (['site', 'clinician'] as const).flatMap(kind => {
    const phi = funnel.dispersion[kind];
    return phi === undefined ? [] : [`Dispersion between ${kind}s ${formatDecimal(phi, 2)}.`];
  });
  const centre = `${funnel.centreIs === 'overall' ? 'All together' : 'Target'}: ${formatPercent(funnel.centre)}.`;
  return [`${title}.`, centre, `By size: ${units.join('; ')}.`, ...dispersion].join(' ');
}
