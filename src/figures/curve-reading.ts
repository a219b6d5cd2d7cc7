import type { Curve } from '../analyses/finding.ts';
import type { Count } from '../wording/hidden-count.ts';
import type { Interval } from '../wording/format.ts';

/** A tick is quoted in a title only while every group has this many at risk. */
const ENOUGH_AT_RISK = 5;

/** The height of a step curve at a time (right-continuous) with its limits. */
export function curveAt(curve: Curve, time: number): Interval {
  let place = -1;
  for (const [i, t] of curve.time.entries()) {
    if (t > time) break;
    place = i;
  }
  const estimate = curve.estimate[place] ?? (curve.direction === 'climbs' ? 0 : 1);
  const lower = curve.lower[place];
  const upper = curve.upper[place];
  return {
    estimate,
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
  };
}

/** A curve as drawn up to a time: the steps after it left out, the last height carried to it if anyone was followed so far. */
export function curveUpTo(curve: Curve, lastTime: number): Curve {
  if (lastFollowUp(curve) <= lastTime) return curve;
  const kept = curve.time.filter(time => time < lastTime).length;
  const end = curveAt(curve, lastTime);
  const shown = curve.riskTable.time.filter(time => time <= lastTime).length;
  const { riskTable } = curve;
  return {
    ...curve,
    time: [...curve.time.slice(0, kept), lastTime],
    estimate: [...curve.estimate.slice(0, kept), end.estimate],
    lower: [...curve.lower.slice(0, kept), end.lower],
    upper: [...curve.upper.slice(0, kept), end.upper],
    riskTable: {
      time: riskTable.time.slice(0, shown),
      atRisk: riskTable.atRisk.slice(0, shown),
      events: riskTable.events.slice(0, shown),
      censored: riskTable.censored.slice(0, shown),
      competing: riskTable.competing.slice(0, shown),
    },
  };
}

/** The last time up to which anyone of the group was followed. */
export function lastFollowUp(curve: Curve): number {
  return curve.time[curve.time.length - 1] ?? 0;
}

/** The ticks of the axis: those of the longest risk table. A group followed for less has the first few of them. */
export function axisTicks(curves: readonly Curve[]): readonly number[] {
  return curves
    .map(curve => curve.riskTable.time)
    .reduce<readonly number[]>((longest, time) => (time.length > longest.length ? time : longest), []);
}

/** Whether the curve stands at a time where its estimate does, so that its height may be put into words. */
export function isQuotable({ quotable }: Curve, time: number): boolean {
  return quotable?.includes(time) ?? true;
}

/**
 * The latest tick at which every group has enough at risk, and a true height, to be quoted; else the latest with anyone at
 * risk; else none.
 */
export function quotableTick(curves: readonly Curve[]): number | undefined {
  const ticks = axisTicks(curves).filter(tick => tick > 0);
  const latest = (needed: number): number | undefined =>
    ticks.findLast(tick =>
      curves.every(curve => {
        const place = curve.riskTable.time.indexOf(tick);
        return isQuotable(curve, tick) && knownAtLeast(curve.riskTable.atRisk[place] ?? 0, needed);
      }),
    );
  return latest(ENOUGH_AT_RISK) ?? latest(1);
}

/** A hidden count cannot be relied on to be great enough. */
export function knownAtLeast(count: Count, needed: number): boolean {
  return typeof count === 'number' && count >= needed;
}
