import { type Band, BANDS, type Foot } from '../../cohort/cohort.ts';
import type { EndReason, Plan } from '../../plan/plan.ts';
import type { SurvivalCurve } from '../../statistics/survival/index.ts';
import { type CausedFollowUp, type IncidenceCurve, incidenceOfEvent, survivalOf } from '../tools/curves.ts';
import { byGroup } from '../tools/people.ts';

/** How therapy ended, by cause code. */
export const DURATION_CAUSES = ['censored', 'finished', 'referred', 'withdrawn'] as const;

/** A foot with the end of its therapy; `day` is the last day of therapy. */
export interface DurationFollowUp extends CausedFollowUp {
  readonly foot: Foot;
  /** Place in `DURATION_CAUSES`. */
  readonly cause: 0 | 1 | 2 | 3;
}

/** The feet of one band with their curves: finishing with competing ends, and with these censored. */
export interface BandDuration {
  readonly band: Band;
  readonly items: readonly DurationFollowUp[];
  readonly incidence: IncidenceCurve;
  readonly survival: SurvivalCurve;
}

const CODES: Readonly<Record<EndReason, 1 | 2 | 3>> = {
  finished: 1,
  'referred for casting': 2,
  'referred for surgery': 2,
  withdrawn: 3,
  'moved away': 3,
  'lost to follow-up': 3,
};

/** Finishing is the event; what the plan lists as competing competes; everything else is censored. */
export function durationFollowUp(foot: Foot, plan: Plan): DurationFollowUp {
  const { end, lastDay: day, episode, infant } = foot;
  const ended =
    end !== 'in therapy' &&
    (end === 'finished' || plan.duration.competingEnds.some(listed => listed === end));
  return { foot, episode, infant, day, cause: ended ? CODES[end] : 0 };
}

/** One result for each band that has feet, mild first. */
export function bandDurations(items: readonly DurationFollowUp[], plan: Plan): readonly BandDuration[] {
  return byGroup(items, BANDS, item => item.foot.band).map(({ group, items: ofBand }) => ({
    band: group,
    items: ofBand,
    incidence: incidenceOfEvent(ofBand, plan),
    survival: survivalOf(ofBand, plan),
  }));
}

/** Feet with at least a day of therapy, which is what the models can use. */
export function withTime(items: readonly DurationFollowUp[]): readonly DurationFollowUp[] {
  return items.filter(item => item.day > 0);
}

export function finishedOf<T extends CausedFollowUp>(items: readonly T[]): readonly T[] {
  return items.filter(item => item.cause === 1);
}
