import { cumulativeIncidence } from '../../statistics/competing-risks/index.ts';
import { kaplanMeier, type SurvivalCurve } from '../../statistics/survival/index.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Curve } from '../finding.ts';
import { countInfants, type OfOneFoot } from './people.ts';

export const DAYS_IN_WEEK = 7;

/** The time scale of a curve: how many units of the follow-up one unit of the axis holds. */
export interface TimeScale {
  readonly timeUnit: Curve['timeUnit'];
  readonly size: number;
}

export const IN_WEEKS: TimeScale = { timeUnit: 'weeks', size: DAYS_IN_WEEK };
export const IN_HUNDRED_HOURS: TimeScale = { timeUnit: 'hundred hours', size: 100 };

export function weeks(days: number): number {
  return days / DAYS_IN_WEEK;
}

/** A follow-up in days (or hours worn): cause 0 is censored, 1 the event, higher ones competing ends. */
export interface CausedFollowUp extends OfOneFoot {
  readonly day: number;
  readonly cause: number;
}

/** What one curve shows and how it is named. */
export interface CurveNaming {
  readonly key: string;
  readonly group: string;
  readonly measure: string;
}

/** Cluster labels, unless the plan takes feet as independent. */
export function clusterOf(items: readonly OfOneFoot[], plan: Plan): { readonly cluster?: readonly string[] } {
  return plan.clustering.byInfant ? { cluster: items.map(item => item.infant) } : {};
}

/** Limits need two infants where errors are clustered: within one the error would come out as 0. */
export function hasLimits(items: readonly OfOneFoot[], plan: Plan): boolean {
  return !plan.clustering.byInfant || countInfants(items) > 1;
}

/** The cumulative incidence of the event (cause 1) in the presence of the competing ends, read at any day. */
export interface IncidenceCurve {
  readonly time: readonly number[];
  readonly incidence: readonly number[];
  readonly lower: readonly (number | undefined)[];
  readonly upper: readonly (number | undefined)[];
}

export function incidenceOfEvent(items: readonly CausedFollowUp[], plan: Plan): IncidenceCurve {
  if (!items.some(item => item.cause === 1)) {
    return { time: [], incidence: [], lower: [], upper: [] };
  }
  const { causes } = cumulativeIncidence(
    { time: items.map(item => item.day), cause: items.map(item => item.cause), ...clusterOf(items, plan) },
    { level: plan.level },
  );
  const event = causes.find(cause => cause.cause === 1);
  if (event === undefined) return { time: [], incidence: [], lower: [], upper: [] };
  const { time, incidence, lower, upper } = event;
  const whole = incidence.map(share => share > 1 - ROUNDING);
  const limited = hasLimits(items, plan);
  const unlessWhole = (limits: readonly (number | undefined)[]) =>
    limits.map((limit, place) => (whole[place] === true || !limited ? undefined : limit));
  return {
    time,
    incidence: incidence.map((share, place) => (whole[place] === true ? 1 : share)),
    lower: unlessWhole(lower),
    upper: unlessWhole(upper),
  };
}

/** A sum of shares that ends this near to 1 is 1, where no limits can be given. */
const ROUNDING = 1e-12;

/** The incidence by the end of a day: the last step at or before it, 0 before the first. */
export function incidenceByDay(
  curve: IncidenceCurve,
  day: number,
): { readonly estimate: number; readonly lower?: number; readonly upper?: number } {
  let place = -1;
  while (place + 1 < curve.time.length && (curve.time[place + 1] ?? Infinity) <= day) place += 1;
  if (place < 0) return { estimate: 0 };
  return withLimits(curve.incidence[place] ?? 0, curve.lower[place], curve.upper[place]);
}

/** An estimate with those of its limits that are available. */
export function withLimits(
  estimate: number,
  lower: number | undefined,
  upper: number | undefined,
): { readonly estimate: number; readonly lower?: number; readonly upper?: number } {
  return {
    estimate,
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
  };
}

export function climbingCurve(
  naming: CurveNaming,
  items: readonly CausedFollowUp[],
  curve: IncidenceCurve,
  ticks: readonly number[],
  scale: TimeScale = IN_WEEKS,
): Curve {
  const drawn = steps(0, curve.time, curve.incidence, curve.lower, curve.upper, lastOf(items), scale);
  return {
    ...naming,
    direction: 'climbs',
    timeUnit: scale.timeUnit,
    ...drawn,
    riskTable: riskTable(items, ticks, scale),
    steps: countsAtTimes(items, drawn.time, scale),
    n: items.length,
    infants: countInfants(items),
  };
}

/** Kaplan-Meier survival without the event; competing ends are taken as censored. */
export function survivalOf(items: readonly CausedFollowUp[], plan: Plan): SurvivalCurve {
  const curve = kaplanMeier(
    {
      time: items.map(item => item.day),
      event: items.map(item => item.cause === 1),
      ...clusterOf(items, plan),
    },
    { level: plan.level },
  );
  if (hasLimits(items, plan)) return curve;
  const none = curve.time.map(() => undefined);
  return { ...curve, lower: none, upper: none };
}

export function fallingCurve(
  naming: CurveNaming,
  items: readonly CausedFollowUp[],
  curve: SurvivalCurve,
  ticks: readonly number[],
  scale: TimeScale = IN_WEEKS,
): Curve {
  const places = [...curve.time.keys()].filter(place => (curve.events[place] ?? 0) > 0);
  const at = <T>(values: readonly T[]): T[] => places.map(place => values[place] as T);
  const drawn = steps(
    1,
    at(curve.time),
    at(curve.survival),
    at(curve.lower),
    at(curve.upper),
    lastOf(items),
    scale,
  );
  return {
    ...naming,
    direction: 'falls',
    timeUnit: scale.timeUnit,
    ...drawn,
    riskTable: riskTable(items, ticks, scale),
    steps: countsAtTimes(items, drawn.time, scale),
    n: items.length,
    infants: countInfants(items),
  };
}

function lastOf(items: readonly CausedFollowUp[]): number {
  return items.reduce((last, item) => Math.max(last, item.day), 0);
}

/** The steps with their start at time 0 and their end at the last follow-up, in units of the axis. */
function steps(
  start: number,
  time: readonly number[],
  estimate: readonly number[],
  lower: readonly (number | undefined)[],
  upper: readonly (number | undefined)[],
  lastDay: number,
  scale: TimeScale,
) {
  const times = [...time];
  const estimates = [...estimate];
  const lowers = [...lower];
  const uppers = [...upper];
  if (times[0] !== 0) {
    times.unshift(0);
    estimates.unshift(start);
    lowers.unshift(start);
    uppers.unshift(start);
  }
  const end = times.length - 1;
  if ((times[end] ?? 0) < lastDay) {
    times.push(lastDay);
    estimates.push(estimates[end] ?? start);
    // A curve without an event stays where it started, and nothing says how sure that is.
    lowers.push(time.length > 0 ? lowers[end] : undefined);
    uppers.push(time.length > 0 ? uppers[end] : undefined);
  }
  return { time: times.map(time => time / scale.size), estimate: estimates, lower: lowers, upper: uppers };
}

/** At risk just before each tick, 0 where nobody is left; events, censored and competing ends before it. */
function riskTable(
  items: readonly CausedFollowUp[],
  ticks: readonly number[],
  { size }: TimeScale,
): Curve['riskTable'] {
  const before = (tick: number, wanted: (cause: number) => boolean): number =>
    items.filter(item => item.day < tick * size && wanted(item.cause)).length;
  return {
    time: ticks,
    atRisk: ticks.map(tick => items.filter(item => item.day >= tick * size).length),
    events: ticks.map(tick => before(tick, cause => cause === 1)),
    censored: ticks.map(tick => before(tick, cause => cause === 0)),
    competing: ticks.map(tick => before(tick, cause => cause > 1)),
  };
}

/** Events at each of some ascending times, and those at risk just before it. */
function countsAtTimes(
  items: readonly CausedFollowUp[],
  times: readonly number[],
  { size }: TimeScale,
): NonNullable<Curve['steps']> {
  const ends = items.map(item => ({ time: item.day / size, event: item.cause === 1 }));
  ends.sort((a, b) => a.time - b.time);
  let before = 0;
  const atRisk: number[] = [];
  const events: number[] = [];
  for (const [place, time] of times.entries()) {
    while (before < ends.length && (ends[before]?.time ?? 0) < time) before += 1;
    atRisk.push(ends.length - before);
    let here = 0;
    // Doses that differ by less than a step of the axis can share a time; the last place holds them all.
    for (let i = before; times[place + 1] !== time && i < ends.length && ends[i]?.time === time; i++) {
      if (ends[i]?.event === true) here += 1;
    }
    events.push(here);
  }
  return { atRisk, events };
}
