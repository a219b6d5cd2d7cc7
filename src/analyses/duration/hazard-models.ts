import type { Plan } from '../../plan/plan.ts';
import { type CoxModel, type CoxTerm, coxModel } from '../../statistics/regression/cox/index.ts';
import {
  subdistributionHazardModel,
  type SubdistributionModel,
} from '../../statistics/regression/subdistribution-hazard.ts';
import { type Design, independentIfAlone } from '../tools/adjustment.ts';
import { attempt } from '../tools/attempt.ts';
import type { DurationFollowUp } from './follow-up.ts';
import {
  type Adjustment,
  covariatesOf,
  type DurationModel,
  durationModel,
  NOTHING_DIFFERS,
  type RatioTerm,
} from './ratio-lines.ts';

/** Cox's model of finishing, other ends censored (cause-specific hazard); ratios above 1 mean sooner finishing. */
export function coxOfDuration(
  design: Design<DurationFollowUp>,
  adjustment: Adjustment,
  plan: Plan,
): DurationModel<CoxModel> {
  const named = { key: `cox.${adjustment}`, panel: `Hazard of finishing, ${adjustment}`, adjustment };
  return durationModel(named, design, fitCox(design, plan), ratioTerms);
}

function fitCox(design: Design<DurationFollowUp>, plan: Plan): CoxModel | { readonly state: string } {
  const { items, columns } = design;
  if (columns.length === 0) return { state: NOTHING_DIFFERS };
  return attempt(() =>
    coxModel(
      {
        time: items.map(item => item.day),
        event: items.map(item => item.cause === 1),
        covariates: covariatesOf(design),
        ...independentIfAlone(items, plan),
      },
      { level: plan.level },
    ),
  );
}

/** Fine and Gray's model of the incidence of finishing, referral and withdrawal kept in the risk set. */
export function fineGrayOfDuration(
  design: Design<DurationFollowUp>,
  adjustment: Adjustment,
  plan: Plan,
): DurationModel<SubdistributionModel> {
  const named = {
    key: `fine-gray.${adjustment}`,
    panel: `Subdistribution hazard of finishing, ${adjustment}`,
    adjustment,
  };
  return durationModel(named, design, fitFineGray(design, plan), ratioTerms);
}

function fitFineGray(
  design: Design<DurationFollowUp>,
  plan: Plan,
): SubdistributionModel | { readonly state: string } {
  const { items, columns } = design;
  if (columns.length === 0) return { state: NOTHING_DIFFERS };
  return attempt(() =>
    subdistributionHazardModel(
      {
        time: items.map(item => item.day),
        cause: items.map(item => item.cause),
        covariates: covariatesOf(design),
        ...independentIfAlone(items, plan),
      },
      // A foot censored on a day was under observation throughout it: ends of that day come first.
      { level: plan.level, tiedCensoring: 'events-removed' },
    ),
  );
}

function ratioTerms({ terms }: { readonly terms: readonly CoxTerm[] }): readonly RatioTerm[] {
  return terms.map(({ name, estimate, hazardRatio: ratio, lower, upper }) => ({
    name,
    estimate,
    ratio,
    lower,
    upper,
  }));
}
