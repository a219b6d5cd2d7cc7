import { buildCohort } from '../cohort/build-cohort.ts';
import type { Cohort } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import type { ExportRecords } from '../records/records.ts';
import { adherence } from './adherence.ts';
import { assessorAgreement } from './assessor-agreement.ts';
import { baseline } from './baseline.ts';
import type { Analysis } from './finding.ts';
import { feetLikeThisOne } from './foot-like-this/feet-like-this-one.ts';
import { phaseOccupancy } from './phase-occupancy.ts';
import { relapseAfterStepDown } from './relapse-after-step-down.ts';
import { sensitivity } from './sensitivity/sensitivity.ts';
import { skinSafety } from './skin-safety.ts';
import { timeToCorrection } from './time-to-correction/time-to-correction.ts';

export {
  adherence,
  assessorAgreement,
  baseline,
  feetLikeThisOne,
  phaseOccupancy,
  relapseAfterStepDown,
  sensitivity,
  skinSafety,
  timeToCorrection,
};
export { footLikeThis, type FootLikeThisAnswer } from './foot-like-this/foot-like-this.ts';
export { ageGroupOf, ageGroups, type FootDescription } from './foot-like-this/feet-like-this.ts';
export {
  analyseDuration,
  durationMissingFindings,
  durationModelChecks,
  durationNextStudy,
  severityAndDuration,
} from './duration/index.ts';
export type { Plot, PlotReference, PlotSeries } from './plots.ts';
export { analyseAudit, type Quarter, quarterNamed, quarterOf } from './audit/index.ts';
export type { QuarterChart } from './quarter-chart.ts';
export type { StandardResult } from './standard-result.ts';
export type { UnitFunnel } from './unit-funnel.ts';
export type {
  Analysis,
  Cell,
  Curve,
  Effect,
  Finding,
  FindingTable,
  LeftOut,
  Measure,
  Period,
  TableColumn,
  TestResult,
  TraceEntry,
} from './finding.ts';
export type { MeanCountCurve } from './mean-count-curve.ts';
export type { OccupancyShares } from './occupancy-shares.ts';

/** Every clinical question of the cohort report, in the order in which the report answers them. */
export function analyseCohort(cohort: Cohort, plan: Plan): readonly Analysis[] {
  return [
    baseline,
    timeToCorrection,
    relapseAfterStepDown,
    adherence,
    skinSafety,
    phaseOccupancy,
    feetLikeThisOne,
    assessorAgreement,
  ].map(analysis => analysis(cohort, plan));
}

/**
 * Every question of the cohort report from a checked export, those that need more than the cohort of the plan included.
 *
 * @param cohort the cohort of these records under this plan, where it is at hand
 * @throws RangeError as `buildCohort`
 */
export function analyseExport(
  records: ExportRecords,
  plan: Plan,
  cohort: Cohort = buildCohort(records, plan),
): readonly Analysis[] {
  const answers = analyseCohort(cohort, plan);
  const correction = answers.find(({ finding }) => finding.key === 'time-to-correction')?.finding;
  return [...answers, sensitivity(records, cohort, plan, correction)];
}
