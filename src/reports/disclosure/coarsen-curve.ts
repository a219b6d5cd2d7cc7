import type { Curve } from '../../analyses/finding.ts';
import { curveAt, lastFollowUp } from '../../figures/curve-reading.ts';
import type { DisclosurePolicy } from './policy.ts';

/** A curve as it may be published, and what of it may not. */
export interface CoarseCurve {
  /** Nothing where no step may be shown. */
  readonly curve: Curve | undefined;
  /** Ticks of the risk table at which the events so far must be hidden. */
  readonly hiddenTicks: ReadonlySet<number>;
  /** Heights of the curve at which it may not be quoted. */
  readonly hiddenHeights: ReadonlySet<number>;
}

interface Step {
  readonly time: number;
  readonly place: number;
  readonly events: number;
}

/**
 * Coarsens the steps of a curve until no small number of events can be seen in it. The curve ends where fewer than the
 * policy asks are at risk. Points of time at which a height may be quoted are chosen so that between two of them lie no
 * events or at least `below`; between the points, neighbouring steps are drawn as one, at the time of the last of them,
 * until each holds at least `below` events. A curve with a small number of events in all is not shown. Where the events
 * behind the steps are not known, the curve is drawn at the ticks of its table alone.
 *
 * @param points times at which heights are quoted, such as the weeks of the plan, beside the ticks of the risk table; where
 *   not all can stay, the first do
 */
export function coarsenCurve(curve: Curve, points: readonly number[], policy: DisclosurePolicy): CoarseCurve {
  const { below, atRisk } = policy;
  const ticks = curve.riskTable.time;
  const steps = stepsOf(curve);
  const last = lastWithEnough(curve, atRisk);
  const total = steps.reduce((sum, step) => sum + step.events, 0);
  const [n] = [curve.n].filter(count => typeof count === 'number');
  if (small(total, below) || n === undefined || n < Math.max(below, atRisk))
    return nothingOf(curve, ticks, points);
  const marks = openMarks(steps, [...new Set(points)], ticks, last, policy, total);
  const places = new Set<number>();
  for (const [i, from] of marks.entries()) {
    const to = marks[i + 1] ?? END;
    const between = steps.filter(step => step.events > 0 && isPast(step, from) && !isPast(step, to));
    // A group that goes on past the end of the curve is not drawn: its height would tell how many are left.
    for (const place of groupedPlaces(between, below))
      if ((curve.time[place] ?? 0) <= last) places.add(place);
  }
  const start = curve.time[0] === 0 && (steps[0]?.events ?? 0) === 0 ? 0 : undefined;
  const drawn = drawnAt(
    curve,
    [...(start === undefined ? [] : [start]), ...[...places].sort((a, b) => a - b)],
    last,
  );
  return {
    curve: { ...withoutSteps(curve), ...drawn, quotable: trueHeights(curve, { ...curve, ...drawn }, points) },
    hiddenTicks: new Set(
      [...ticks.keys()].filter(k => !marks.some(({ time, by }) => !by && time === ticks[k])),
    ),
    hiddenHeights: heightsBetween(curve, points, [
      ...marks.flatMap(({ time, by }) => (by ? [time] : [])),
      // Its end is drawn on at the height of the last step that is shown, which need not be its own.
      ...drawn.time.filter((time, i) => curveAt(curve, time).estimate === drawn.estimate[i]),
    ]),
  };
}

function small(count: number, below: number): boolean {
  return count > 0 && count < below;
}

/** Steps with the events each holds; from the risk table alone where they are not given. */
function stepsOf(curve: Curve): readonly Step[] {
  if (curve.steps !== undefined) {
    const { events } = curve.steps;
    return curve.time.map((time, place) => ({ time, place, events: events[place] ?? 0 }));
  }
  let before = 0;
  return curve.riskTable.time.flatMap((time, k) => {
    const events = curve.riskTable.events[k];
    if (typeof events !== 'number') return [];
    // What happened before the tick stands in the latest step before it.
    const place = curve.time.findLastIndex(step => step < time || (step === 0 && time === 0));
    const step = {
      time: curve.time[Math.max(place, 0)] ?? 0,
      place: Math.max(place, 0),
      events: events - before,
    };
    before = events;
    return [step];
  });
}

/** The last time at which enough are at risk just before it. */
function lastWithEnough(curve: Curve, enough: number): number {
  if (curve.steps !== undefined) {
    const place = curve.steps.atRisk.findLastIndex(count => count >= enough);
    return curve.time[place] ?? -1;
  }
  const place = curve.riskTable.atRisk.findLastIndex(count => typeof count === 'number' && count >= enough);
  return curve.riskTable.time[place] ?? -1;
}

/** A moment at which the events so far may be told: before a time (the table under the axis), or up to it (a height). */
interface Mark {
  readonly time: number;
  readonly by: boolean;
  readonly events: number;
}

const END: Mark = { time: Number.POSITIVE_INFINITY, by: true, events: 0 };

function isPast(step: Step, { time, by }: Mark): boolean {
  return by ? step.time > time : step.time >= time;
}

/** Marks between which lie no events, or enough of them, also to the end; heights are worth more than the table. */
function openMarks(
  steps: readonly Step[],
  points: readonly number[],
  ticks: readonly number[],
  last: number,
  { below }: DisclosurePolicy,
  total: number,
): readonly Mark[] {
  const mark = (time: number, by: boolean): Mark => ({
    time,
    by,
    events: steps.reduce((sum, step) => sum + (isPast(step, { time, by, events: 0 }) ? 0 : step.events), 0),
  });
  const wanted = [
    ...points.map(time => mark(time, true)),
    ...[...ticks].sort((a, b) => a - b).map(time => mark(time, false)),
    // Past the end of the curve all have happened: no more is told than how many there were.
  ].filter(({ time, by, events }) => time <= last || (by && events === total));
  const open: Mark[] = [mark(0, false)];
  for (const candidate of wanted) {
    const place = open.findIndex(
      ({ time, by }) => time > candidate.time || (time === candidate.time && by && !candidate.by),
    );
    const after = place < 0 ? total : (open[place]?.events ?? total);
    const before = open[(place < 0 ? open.length : place) - 1];
    if (before !== undefined && before.time === candidate.time && before.by === candidate.by) continue;
    if (small(candidate.events - (before?.events ?? 0), below) || small(after - candidate.events, below))
      continue;
    open.splice(place < 0 ? open.length : place, 0, candidate);
  }
  return open;
}

/** The last step of every group of neighbouring steps that holds enough events; a remainder joins the group before it. */
function groupedPlaces(steps: readonly Step[], below: number): readonly number[] {
  const places: number[] = [];
  let events = 0;
  for (const step of steps) {
    events += step.events;
    if (events < below) continue;
    places.push(step.place);
    events = 0;
  }
  const lastStep = steps[steps.length - 1];
  if (events > 0 && lastStep !== undefined) {
    if (places.length > 0) places[places.length - 1] = lastStep.place;
    // A lone remainder is too small to be a step.
  }
  return places;
}

function drawnAt(
  curve: Curve,
  places: readonly number[],
  last: number,
): Pick<Curve, 'time' | 'estimate' | 'lower' | 'upper'> {
  const at = <T>(values: readonly T[]): T[] => places.map(place => values[place] as T);
  const [time, estimate, lower, upper] = [
    at(curve.time),
    at(curve.estimate),
    at(curve.lower),
    at(curve.upper),
  ];
  const end = time.length - 1;
  if (end >= 0 && (time[end] ?? 0) < last) {
    time.push(last);
    estimate.push(estimate[end] ?? 0);
    lower.push(lower[end]);
    upper.push(upper[end]);
  }
  return { time, estimate, lower, upper };
}

/** Ticks and points at which a curve as drawn stands where the estimate does. */
function trueHeights(curve: Curve, drawn: Curve, points: readonly number[]): readonly number[] {
  const end = lastFollowUp(drawn);
  return [...new Set([...curve.riskTable.time, ...points])]
    .filter(time => time <= end && curveAt(drawn, time).estimate === curveAt(curve, time).estimate)
    .sort((a, b) => a - b);
}

/** Heights at points that may not be quoted, unless the curve has the same height at one that may, or is drawn at it. */
function heightsBetween(
  curve: Curve,
  points: readonly number[],
  shown: readonly number[],
): ReadonlySet<number> {
  const heightAt = (point: number): number | undefined =>
    curve.estimate[curve.time.findLastIndex(time => time <= point)];
  const open = new Set(shown.map(heightAt));
  const hidden = new Set<number>();
  for (const point of points) {
    const height = heightAt(point);
    if (height !== undefined && !open.has(height)) hidden.add(height);
  }
  return hidden;
}

function nothingOf(curve: Curve, ticks: readonly number[], points: readonly number[]): CoarseCurve {
  return {
    curve: undefined,
    hiddenTicks: new Set(ticks.keys()),
    hiddenHeights: heightsBetween(
      curve,
      [...ticks, ...points],
      [0].filter(() => curve.time[0] === 0),
    ),
  };
}

/** A curve without the events behind its steps. */
export function withoutSteps(curve: Curve): Curve {
  const { steps: _, ...rest } = curve;
  return rest;
}
