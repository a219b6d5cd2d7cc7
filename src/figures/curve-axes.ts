import type { Curve } from '../analyses/finding.ts';
import { formatCountInFigure, formatTick } from '../wording/format.ts';
import { axisTicks, lastFollowUp } from './curve-reading.ts';
import { textWidth } from './text-width.ts';

/** Least space between two columns of the risk table, in pixels. */
const COLUMN_GAP = 5;
/** A tick up to a tenth behind the last follow-up ends the axis. */
const NEAR = 1.1;

export interface HorizontalAxis {
  readonly xDomain: readonly [number, number];
  readonly xTicks: readonly number[];
}

/**
 * The ticks are those of the risk table as far as anyone was followed; where follow-up goes on past the last, ticks follow at its spacing. From the
 * left, a tick whose label or counts would run into those before it is left out, of the axis and of the table.
 *
 * @param width of the plot, and `size` of the type, in pixels
 */
export function horizontalAxis(curves: readonly Curve[], width: number, size: number): HorizontalAxis {
  const all = axisTicks(curves);
  const end = axisEnd(
    all,
    Math.max(...curves.map(curve => Math.max(lastFollowUp(curve), lastAtRisk(curve)))),
  );
  const ticks = all.filter(tick => tick <= end);
  const last = ticks[ticks.length - 1] ?? 0;
  const rough = Math.max(last - (ticks[ticks.length - 2] ?? 0), end / 8);
  const spacing = [1, 2, 4, 8, 13, 26, 52].find(step => step >= rough) ?? rough;
  for (let tick = last + spacing; tick <= end; tick += spacing) ticks.push(tick);
  const span = end > 0 ? end : 1;
  const kept: number[] = [];
  let right = Number.NEGATIVE_INFINITY;
  for (const tick of ticks) {
    const half = columnWidth(curves, tick, size) / 2;
    const place = (tick / span) * width;
    if (place - half < right + COLUMN_GAP) continue;
    kept.push(tick);
    right = place + half;
  }
  return { xDomain: [0, span], xTicks: kept };
}

/** The last follow-up, or the tick behind it if that is near. Without any follow-up, the last tick. */
function axisEnd(ticks: readonly number[], followed: number): number {
  if (followed <= 0) return ticks.at(-1) ?? 0;
  const next = ticks.find(tick => tick >= followed);
  return next !== undefined && next <= followed * NEAR ? next : followed;
}

/** The last tick at which anyone of the group is at risk. */
function lastAtRisk({ riskTable: { time, atRisk } }: Curve): number {
  return time.findLast((_, k) => atRisk[k] !== 0) ?? 0;
}

/** Width of the widest text that stands at a tick. */
function columnWidth(curves: readonly Curve[], tick: number, size: number): number {
  const counts = curves.flatMap(({ riskTable }) => {
    const place = riskTable.time.indexOf(tick);
    if (place < 0) return [];
    return [riskTable.atRisk, riskTable.events, riskTable.competing, riskTable.censored].map(
      column => column[place] ?? 0,
    );
  });
  return Math.max(
    ...[formatTick(tick), ...counts.map(formatCountInFigure)].map(text => textWidth(text, size)),
  );
}

/** A falling curve needs the whole height; a climbing one as much as its highest limit. */
export function verticalMaximum(curves: readonly Curve[]): number {
  if (curves.some(curve => curve.direction === 'falls')) return 1;
  const highest = Math.max(
    ...curves.flatMap(curve => [...curve.estimate, ...curve.upper.filter(limit => limit !== undefined)]),
    0,
  );
  return [0.1, 0.2, 0.3, 0.4, 0.5].find(maximum => highest <= maximum) ?? 1;
}

export function verticalTicks(maximum: number): readonly number[] {
  const steps = maximum === 0.3 ? 3 : maximum === 0.1 || maximum === 0.5 ? 5 : 4;
  return Array.from({ length: steps + 1 }, (_, i) => (maximum * i) / steps);
}
