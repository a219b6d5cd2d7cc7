/** A point of a curve, ready to draw: weeks, and shares of 1. */
export interface CurvePoint {
  readonly group: string;
  readonly weeks: number;
  readonly share: number;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}

interface StepCurve {
  readonly time: readonly number[];
  readonly lower: readonly (number | undefined)[];
  readonly upper: readonly (number | undefined)[];
}

const DAYS_IN_A_WEEK = 7;

/** Share that had the event: a survival curve turned over, with its limits, from week 0. */
export function shareReached(
  curve: StepCurve & { readonly survival: readonly number[] },
  group = 'all',
): CurvePoint[] {
  const start = { group, weeks: 0, share: 0, lower: undefined, upper: undefined };
  const points = curve.time.map((day, i) => ({
    group,
    weeks: day / DAYS_IN_A_WEEK,
    share: 1 - (curve.survival[i] ?? 1),
    lower: turned(curve.upper[i]),
    upper: turned(curve.lower[i]),
  }));
  return [start, ...points];
}

/** Cumulative incidence as it is, with its limits, from week 0. */
export function incidence(
  curve: StepCurve & { readonly incidence: readonly number[] },
  group = 'all',
): CurvePoint[] {
  const start = { group, weeks: 0, share: 0, lower: undefined, upper: undefined };
  const points = curve.time.map((day, i) => ({
    group,
    weeks: day / DAYS_IN_A_WEEK,
    share: curve.incidence[i] ?? 0,
    lower: curve.lower[i],
    upper: curve.upper[i],
  }));
  return [start, ...points];
}

function turned(limit: number | undefined): number | undefined {
  return limit === undefined ? undefined : 1 - limit;
}
