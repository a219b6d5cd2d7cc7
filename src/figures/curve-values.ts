import type { Curve } from '../analyses/finding.ts';
import { formatDecimal, formatPercentInterval, type Interval, NOTHING } from '../wording/format.ts';
import type { CurveLayout } from './curve-layout.ts';
import { lastFollowUp } from './curve-reading.ts';
import { capital } from './curve-words.ts';
import type { FigureValues, FigureWidth, PlotArea } from './figure.ts';

/** Values are read off a figure with one decimal more than they are quoted: that of a large number of feet. */
const DECIMALS_OF = 1000;

/**
 * Every curve at every time at which one of them steps: the height from that time on, with its limits; a dash after
 * the last follow-up of its group.
 */
export function curveValues(
  curves: readonly Curve[],
  timeTitle: string,
  layouts: Readonly<Record<FigureWidth, CurveLayout>>,
): FigureValues {
  const times = [...new Set([0, ...curves.flatMap(curve => curve.time)])].sort((a, b) => a - b);
  const columns = curves.map(curve => heightsAt(curve, times));
  return {
    columns: [
      { label: timeTitle },
      ...curves.map(({ group }) => ({ label: capital(group), unit: '%', group })),
    ],
    rows: times.map((time, i) => ({
      at: time,
      cells: [formatDecimal(time, 1), ...columns.map(column => column[i] ?? NOTHING)],
    })),
    axis: {
      domain: layouts.page.xDomain,
      plot: { page: plotArea(layouts.page), narrow: plotArea(layouts.narrow) },
      clear: meanEnd(curves) > layouts.page.yMaximum / 2 ? 'bottom' : 'top',
    },
  };
}

/** The heights of a curve at ascending times, in one pass. */
function heightsAt(curve: Curve, times: readonly number[]): readonly string[] {
  const end = lastFollowUp(curve);
  let place = -1;
  return times.map(time => {
    if (time > end) return NOTHING;
    while (place + 1 < curve.time.length && (curve.time[place + 1] ?? 0) <= time) place++;
    const lower = curve.lower[place];
    const upper = curve.upper[place];
    const height: Interval = {
      estimate: curve.estimate[place] ?? (curve.direction === 'climbs' ? 0 : 1),
      ...(lower === undefined ? {} : { lower }),
      ...(upper === undefined ? {} : { upper }),
    };
    return formatPercentInterval(height, DECIMALS_OF);
  });
}

/** The mean height at which the curves end. */
function meanEnd(curves: readonly Curve[]): number {
  return curves.reduce((sum, curve) => sum + (curve.estimate.at(-1) ?? 0), 0) / curves.length;
}

function plotArea(layout: CurveLayout): PlotArea {
  return {
    left: layout.padding.left,
    top: layout.padding.top,
    width: layout.plotWidth,
    height: layout.plotHeight,
  };
}
