import type { Curve } from '../analyses/finding.ts';
import { curveAt, isQuotable, knownAtLeast, quotableTick } from './curve-reading.ts';
import {
  formatCount,
  formatInterval,
  formatLevel,
  formatPercent,
  formatTick,
  listInWords,
  NO_BREAK_SPACE,
  THIN_SPACE,
} from '../wording/format.ts';

/** What is counted in the curves. */
export type CurveUnit = 'feet' | 'step-downs' | 'phase spells';

/** A title that states the finding from the curves alone: the height of each at the latest tick that can be quoted. */
export function curveTitle(curves: readonly Curve[]): string {
  const first = curves[0];
  if (first === undefined) return 'No curve';
  const tick = quotableTick(curves);
  if (tick === undefined) {
    const asEstimated = curves.map(curve => {
      const { quotable: _, ...rest } = curve;
      return rest;
    });
    return `${first.measure}${quotableTick(asEstimated) === undefined ? ': too few to say' : ', over time'}`;
  }
  // A time before anything has happened would say less than nothing of what happens after it.
  if (!curves.some(curve => hasMoved(curve, tick)) && curves.some(curve => hasMoved(curve))) {
    return `${first.measure}, over time`;
  }
  const when = `${first.direction === 'climbs' ? 'by' : 'at'} ${moment(first, tick)}`;
  const heights = curves.map(curve => {
    const height = formatPercent(curveAt(curve, tick).estimate);
    if (curves.length === 1) return height;
    // A group named by hours, such as 24 to 15, would run into its percentage.
    return /\d/.test(curve.group) ? `${height} (${curve.group})` : `${curve.group} ${height}`;
  });
  return `${first.measure} ${when}: ${listInWords(heights)}`;
}

/** The height with its limits; before anything has happened there are none. */
function heightInWords(curve: Curve, tick: number): string {
  const { estimate, ...limits } = curveAt(curve, tick);
  return formatInterval({ estimate, ...(hasMoved(curve, tick) ? limits : {}) }, 'proportion');
}

/** Whether a curve has left the height it starts at, by a time or at all. */
function hasMoved(curve: Curve, by = Number.POSITIVE_INFINITY): boolean {
  return curveAt(curve, by).estimate !== (curve.direction === 'climbs' ? 0 : 1);
}

/** Measure and unit, and what the bands are. */
export function curveSubtitle(curves: readonly Curve[], level: number): string {
  const measure = curves[0]?.measure ?? '';
  const limited = curves.some(curve => curve.lower.some(limit => limit !== undefined));
  return `${measure}, %${limited ? `, with pointwise ${formatLevel(level)} intervals` : ''}`;
}

/** The sizes of the groups: `n: 80 feet of 61 infants (mild); 40 feet of 33 infants (severe)`. */
export function curveSizes(curves: readonly Curve[], unit: CurveUnit): string {
  const sizes = curves.map(curve => {
    const size = [formatCount(curve.n), unit, 'of', formatCount(curve.infants), 'infants'].join(
      NO_BREAK_SPACE,
    );
    return curves.length === 1 ? size : `${size} (${curve.group})`;
  });
  return `n: ${sizes.join('; ')}`;
}

/** The text alternative: the title, then each curve at each tick with its limits. */
export function curveDescription(
  title: string,
  curves: readonly Curve[],
  unit: CurveUnit,
  level: number,
): string {
  const lines = curves.map(curve => {
    const heights = curve.riskTable.time
      .filter(
        (tick, i) => tick > 0 && isQuotable(curve, tick) && knownAtLeast(curve.riskTable.atRisk[i] ?? 0, 1),
      )
      .map(tick => `${heightInWords(curve, tick)}${THIN_SPACE}% at ${moment(curve, tick)}`);
    const course = heights.length > 0 ? listInWords(heights) : 'no height at a tick can be told';
    return `${capital(curve.group)} (${formatCount(curve.n)} ${unit} of ${formatCount(curve.infants)} infants): ${course}.`;
  });
  return `${title}. ${curveSubtitle(curves, level)}. ${lines.join(' ')}`;
}

export function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

function moment(curve: Curve, tick: number): string {
  return curve.timeUnit === 'weeks' ? `week ${formatTick(tick)}` : `${formatTick(tick)} hundred hours`;
}
