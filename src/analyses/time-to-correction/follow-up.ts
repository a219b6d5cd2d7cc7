import { type Band, BANDS, type Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { SurvivalCurve } from '../../statistics/survival/index.ts';
import { type CausedFollowUp, type IncidenceCurve, incidenceOfEvent, survivalOf } from '../tools/curves.ts';
import { byGroup } from '../tools/people.ts';

/** A banded foot with its time to correction: `day` in days, or in hours worn on the dose scale. */
export interface CorrectionFollowUp extends CausedFollowUp {
  readonly foot: Foot;
}

/** The feet of one band with their two visit-dated curves. */
export interface BandResult {
  readonly band: Band;
  readonly items: readonly CorrectionFollowUp[];
  readonly incidence: IncidenceCurve;
  readonly survival: SurvivalCurve;
}

export function correctionFollowUps(feet: readonly Foot[]): readonly CorrectionFollowUp[] {
  return feet.map(foot => ({
    foot,
    episode: foot.episode,
    infant: foot.infant,
    day: foot.correction.day,
    cause: foot.correction.cause,
  }));
}

/** One result for each band that has feet, mild first. */
export function bandResults(items: readonly CorrectionFollowUp[], plan: Plan): readonly BandResult[] {
  return byGroup(items, BANDS, item => item.foot.band).map(({ group, items: ofBand }) => ({
    band: group,
    items: ofBand,
    incidence: incidenceOfEvent(ofBand, plan),
    survival: survivalOf(ofBand, plan),
  }));
}

export function corrections(items: readonly CausedFollowUp[]): number {
  return items.filter(item => item.cause === 1).length;
}
