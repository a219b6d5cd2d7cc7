import type { Plan } from '../plan/plan.ts';
import type { Foot, StepDown, Visit } from './cohort.ts';
import type { HoursChange } from './step-downs.ts';
import { returnDays, stepDownChanges } from './step-downs.ts';

type Course = Pick<Foot, 'baseline' | 'visits' | 'spells' | 'lastDay' | 'end'>;
type Outcome = Pick<StepDown, 'referencePosition' | 'daysAtRisk' | 'cause' | 'sign'>;

// Positions are halves, but the plan may ask for a step that is no binary fraction.
const SLACK = 1e-9;

/**
 * The step-downs of one foot by day, each with the relapse or other end that followed it.
 *
 * @param cutOff days since 1970-01-01
 */
export function stepDownsOf(
  foot: Course & Pick<Foot, 'episode' | 'infant' | 'band' | 'site' | 'startDate'>,
  plan: Plan,
  cutOff: number,
): readonly StepDown[] {
  const changes = stepDownChanges(foot.spells, foot);
  return changes.map((change, place) => ({
    episode: foot.episode,
    infant: foot.infant,
    band: foot.band,
    site: foot.site,
    ...change,
    step: `${change.fromHours} to ${change.toHours === 0 ? 'none' : change.toHours}`,
    ordinal: place + 1,
    ...relapseAfter(change, changes[place + 1], foot, plan, cutOff - foot.startDate),
  }));
}

/**
 * What followed one step-down: days at risk (from the day after it) and the cause of their end.
 *
 * A relapse is the earlier of an assessment with the bisector worse than the reference position by the plan's measure
 * and a return to longer hours. It comes before any other end of the same day; a next step-down comes before the end of
 * therapy of the same day. With no days at risk the cause is 0.
 *
 * @param lastDay the cut-off, in days since first fitting
 */
export function relapseAfter(
  change: HoursChange,
  next: HoursChange | undefined,
  foot: Course,
  plan: Plan,
  lastDay: number,
): Outcome {
  const referencePosition = positionOn(change.day, foot);
  const stop =
    change.toHours === 0
      ? stopAfterTherapy(change, referencePosition, foot, plan, lastDay)
      : stopInTherapy(next, foot, plan);

  const worse = firstWorseDay(change.day, referencePosition, foot.visits, plan);
  const longer = plan.relapse.longerHoursCount
    ? (returnDays(foot.spells).find(day => day > change.day) ?? Number.POSITIVE_INFINITY)
    : Number.POSITIVE_INFINITY;
  const relapse = Math.min(worse, longer);
  if (relapse <= stop.day) {
    const sign = worse === longer ? 'both' : worse < longer ? 'bisector worse' : 'longer hours';
    return { referencePosition, daysAtRisk: relapse - change.day, cause: 1, sign };
  }
  const daysAtRisk = stop.day - change.day;
  return { referencePosition, daysAtRisk, cause: daysAtRisk === 0 ? 0 : stop.cause, sign: undefined };
}

/** The latest recorded bisector position on or before a day: of day 0 or later, or of the baseline assessment. */
export function positionOn(day: number, foot: Pick<Foot, 'baseline' | 'visits'>): number | undefined {
  const { baseline, visits } = foot;
  let position = baseline.day !== undefined && baseline.day <= day ? baseline.bisectorPosition : undefined;
  for (const visit of visits) {
    if (visit.day >= 0 && visit.day <= day && visit.bisectorPosition !== undefined) {
      position = visit.bisectorPosition;
    }
  }
  return position;
}

function firstWorseDay(
  after: number,
  reference: number | undefined,
  visits: readonly Visit[],
  plan: Plan,
): number {
  if (reference === undefined) return Number.POSITIVE_INFINITY;
  const limit = reference + plan.relapse.bisectorWorseBy - SLACK;
  const worse = visits.find(
    visit => visit.day > after && visit.bisectorPosition !== undefined && visit.bisectorPosition >= limit,
  );
  return worse?.day ?? Number.POSITIVE_INFINITY;
}

interface Stop {
  readonly day: number;
  readonly cause: 0 | 2 | 3;
}

function stopInTherapy(next: HoursChange | undefined, foot: Course, plan: Plan): Stop {
  if (next !== undefined) return { day: next.day, cause: plan.relapse.nextStepDown === 'competing' ? 2 : 0 };
  const left =
    foot.end === 'referred for casting' || foot.end === 'referred for surgery' || foot.end === 'withdrawn';
  return { day: foot.lastDay, cause: left ? 3 : 0 };
}

/**
 * Without a position to compare with, or one to compare, a relapse could not have been seen: no time at risk.
 *
 * A foot seen shortly before the end of the weeks after therapy is followed to that end. If those seen free left on the
 * day they were seen, the feet not yet seen would stay behind, and each relapse among them would count for too many.
 */
function stopAfterTherapy(
  change: HoursChange,
  reference: number | undefined,
  foot: Course,
  plan: Plan,
  lastDay: number,
): Stop {
  const seen = foot.visits.findLast(visit => visit.day > change.day && visit.bisectorPosition !== undefined);
  if (reference === undefined || seen === undefined) return { day: change.day, cause: 0 };
  const { weeksAfterTherapy, lastSeenWithinDays } = plan.relapse;
  const end = change.day + Math.floor(7 * weeksAfterTherapy);
  const followed = seen.day >= end - lastSeenWithinDays ? Math.max(seen.day, lastDay) : seen.day;
  return { day: Math.min(followed, end), cause: 0 };
}
