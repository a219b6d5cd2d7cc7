import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Analysis } from '../finding.ts';
import { durationMissingFindings } from './duration-missing-findings.ts';
import { durationModelChecks } from './duration-model-checks.ts';
import { durationNextStudy } from './duration-next-study.ts';
import { durationFits } from './fits.ts';
import { severityAndDuration } from './severity-and-duration.ts';

export { durationMissingFindings, durationModelChecks, durationNextStudy, severityAndDuration };

/** The findings of the researcher's question, from one set of fits: the answer first, then what stands behind it. */
export function analyseDuration(cohort: Cohort, plan: Plan): readonly Analysis[] {
  const fits = durationFits(cohort, plan);
  return [severityAndDuration, durationModelChecks, durationMissingFindings, durationNextStudy].map(
    analysis => analysis(cohort, plan, fits),
  );
}
