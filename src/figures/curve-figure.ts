import type { TopLevelSpec } from 'vega-lite';
import type { Curve } from '../analyses/finding.ts';
import { bandLayers, labelLayers, lineLayers, riskTableLayers } from './curve-layers.ts';
import {
  type CurveLayout,
  curveLayout,
  SUBTITLE_LINE,
  SUBTITLE_SIZE,
  TITLE_LINE,
  TITLE_SIZE,
} from './curve-layout.ts';
import { curveValues } from './curve-values.ts';
import { type CurveUnit, curveDescription, curveSizes, curveSubtitle, curveTitle } from './curve-words.ts';
import { axisTicks, curveUpTo } from './curve-reading.ts';
import type { Figure } from './figure.ts';
import { formatPercentNumber, formatTick } from '../wording/format.ts';
import { CHART_FACE, INK, PAPER, QUIET_INK, RULE } from './palette.ts';

export interface CurveFigureOptions {
  readonly key: string;
  /** States the finding; by default made from the heights of the curves at the latest tick that can be quoted. */
  readonly title?: string;
  /** Of the axis, such as `Weeks since first fitting`. */
  readonly timeTitle: string;
  readonly unit: CurveUnit;
  /** Confidence level of the limits. */
  readonly level: number;
  /** Where the drawing ends; to the last follow-up unless told. */
  readonly lastTime?: number;
}

/**
 * A figure of one to four step curves with stepped pointwise bands to the last follow-up, direct labels, and under the
 * axis a table of those at risk, events, other ends and censored on the same scale
 * (Morris TP et al. BMJ Open 2019;9:e030215).
 *
 * @throws RangeError without a curve, with more than four, or when the ticks of one risk table are not the first of the longest
 */
export function curveFigure(followed: readonly Curve[], options: CurveFigureOptions): Figure {
  const { lastTime } = options;
  const curves = lastTime === undefined ? followed : followed.map(curve => curveUpTo(curve, lastTime));
  refuseUnequalTicks(curves, options.key);
  const title = options.title ?? curveTitle(curves);
  const subtitle = curveSubtitle(curves, options.level);
  const words = { title, subtitle, sizes: curveSizes(curves, options.unit) };
  const layouts = {
    page: curveLayout(curves, words, 'page'),
    narrow: curveLayout(curves, words, 'narrow'),
  };
  return {
    key: options.key,
    title,
    subtitle,
    description: curveDescription(title, curves, options.unit, options.level),
    specs: {
      page: curveSpec(curves, layouts.page, options.timeTitle),
      narrow: curveSpec(curves, layouts.narrow, options.timeTitle),
    },
    values: curveValues(curves, options.timeTitle, layouts),
  };
}

function curveSpec(curves: readonly Curve[], layout: CurveLayout, timeTitle: string): TopLevelSpec {
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    autosize: { type: 'none' },
    background: PAPER,
    width: layout.plotWidth,
    height: layout.plotHeight,
    padding: { ...layout.padding },
    title: {
      text: [...layout.titleLines],
      subtitle: [...layout.subtitleLines],
      anchor: 'start',
      frame: 'group',
      dx: 4 - layout.padding.left,
      offset: 14,
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
        labelFontSize: layout.textSize,
        titleFontSize: layout.textSize,
        labelColor: INK,
        titleColor: INK,
        titleFontWeight: 'normal',
        labelLimit: 0,
        titleLimit: 0,
        labelOverlap: false,
        // Ticks on whole pixels would stand beside the columns of the table below them.
        tickRound: false,
        tickColor: INK,
        domainColor: INK,
      },
    },
    layer: [
      axisLayer(layout, timeTitle),
      ...bandLayers(curves),
      ...lineLayers(curves),
      ...labelLayers(curves, layout),
      ...riskTableLayers(curves, layout),
    ],
  };
}

/** A layer that draws nothing and holds the two axes, which all other layers share. */
function axisLayer(layout: CurveLayout, timeTitle: string): ReturnType<typeof lineLayers>[number] {
  const yLabels = layout.yTicks.map(tick => formatPercentNumber(tick));
  return {
    name: 'axes',
    data: { values: [{ time: 0, estimate: 0 }] },
    mark: { type: 'point', opacity: 0, size: 0 },
    encoding: {
      x: {
        field: 'time',
        type: 'quantitative',
        scale: { domain: [...layout.xDomain], nice: false, zero: false },
        axis: {
          values: [...layout.xTicks],
          // Without a count as great as the list, the drawing library thins the list out in a narrow plot.
          tickCount: layout.xTicks.length,
          labelExpr: labelExpression(layout.xTicks, layout.xTicks.map(formatTick)),
          labelAlign: 'center',
          labelFlush: false,
          grid: false,
          title: timeTitle,
          titleAnchor: 'start',
          titlePadding: 6,
        },
      },
      y: {
        field: 'estimate',
        type: 'quantitative',
        scale: { domain: [0, layout.yMaximum], nice: false },
        axis: {
          values: [...layout.yTicks],
          tickCount: layout.yTicks.length,
          labelExpr: labelExpression(layout.yTicks, yLabels),
          gridColor: RULE,
          gridOpacity: 0.6,
          domain: false,
          ticks: false,
          labelPadding: 6,
          title: null,
        },
      },
    },
  };
}

/** The label of each tick as the formatter writes it, picked by the order of the ticks. */
function labelExpression(ticks: readonly number[], labels: readonly string[]): string {
  const span = Math.max(ticks.length - 1, 1);
  return `${JSON.stringify(labels)}[round(datum.index * ${span})]`;
}

function refuseUnequalTicks(curves: readonly Curve[], key: string): void {
  if (curves.length === 0 || curves.length > 4) {
    throw new RangeError(`figure ${key} has ${curves.length} curves; 1 to 4 are allowed`);
  }
  const ticks = axisTicks(curves);
  const other = curves.find(({ riskTable }) => riskTable.time.some((time, k) => time !== ticks[k]));
  if (other !== undefined) {
    throw new RangeError(
      `figure ${key}: the risk table of ${other.group} has ticks of its own; one axis needs one set`,
    );
  }
}
