import type { Cohort } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import { adherence } from './adherence.ts';
import { baseline } from './baseline.ts';
import type { Analysis } from './finding.ts';
import { relapseAfterStepDown } from './relapse-after-step-down.ts';
import { timeToCorrection } from './time-to-correction/time-to-correction.ts';

export { adherence, baseline, relapseAfterStepDown, timeToCorrection };
export type {
  Analysis,
  Cell,
  Curve,
  Effect,
  Finding,
  FindingTable,
  LeftOut,
  Measure,
  TableColumn,
  TestResult,
  TraceEntry,
} from './finding.ts';

/** Every clinical question of the cohort report, in the order in which the report answers them. */
export function analyseCohort(cohort: Cohort, plan: Plan): readonly Analysis[] {
  return [baseline, timeToCorrection, relapseAfterStepDown, adherence].map(analysis =>
    analysis(cohort, plan),
  );
}
