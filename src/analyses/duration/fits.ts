import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { CoxModel } from '../../statistics/regression/cox/index.ts';
import type { SubdistributionModel } from '../../statistics/regression/subdistribution-hazard.ts';
import { adjustedDesign, crudeDesign, type Design } from '../tools/adjustment.ts';
import { type Population, population, reasonNotBanded } from '../tools/people.ts';
import { type AcceleratedModel, acceleratedOfDuration, distributionsOf } from './accelerated-models.ts';
import {
  type BandDuration,
  bandDurations,
  type DurationFollowUp,
  durationFollowUp,
  withTime,
} from './follow-up.ts';
import { coxOfDuration, fineGrayOfDuration } from './hazard-models.ts';
import type { DurationModel } from './ratio-lines.ts';

interface CrudeAndAdjusted<M> {
  readonly crude: M;
  readonly adjusted: M;
}

/** Feet, curves and models of the question on severity and duration, made once for all of its findings. */
export interface DurationFits {
  readonly population: Population<DurationFollowUp>;
  readonly bands: readonly BandDuration[];
  readonly designs: CrudeAndAdjusted<Design<DurationFollowUp>>;
  readonly cox: CrudeAndAdjusted<DurationModel<CoxModel>>;
  readonly fineGray: CrudeAndAdjusted<DurationModel<SubdistributionModel>>;
  /** Of the planned distribution. */
  readonly time: CrudeAndAdjusted<AcceleratedModel>;
  /** Crude and adjusted for every distribution, the planned one first. */
  readonly distributions: readonly AcceleratedModel[];
}

export function durationFits(cohort: Cohort, plan: Plan): DurationFits {
  const followUps = cohort.feet.map(foot => durationFollowUp(foot, plan));
  const split = population(followUps, item => reasonNotBanded(item.foot));
  const items = withTime(split.used);
  const designs = { crude: crudeDesign(items), adjusted: adjustedDesign(items) };
  const { crude, adjusted } = designs;
  const [planned, ...others] = distributionsOf(plan);
  const both = (distribution: NonNullable<typeof planned>) => ({
    crude: acceleratedOfDuration(crude, 'crude', distribution, plan),
    adjusted: acceleratedOfDuration(adjusted, 'adjusted', distribution, plan),
  });
  const time = both(planned ?? plan.duration.distribution);
  return {
    population: split,
    bands: bandDurations(split.used, plan),
    designs,
    cox: {
      crude: coxOfDuration(crude, 'crude', plan),
      adjusted: coxOfDuration(adjusted, 'adjusted', plan),
    },
    fineGray: {
      crude: fineGrayOfDuration(crude, 'crude', plan),
      adjusted: fineGrayOfDuration(adjusted, 'adjusted', plan),
    },
    time,
    distributions: [time, ...others.map(both)].flatMap(pair => [pair.crude, pair.adjusted]),
  };
}
