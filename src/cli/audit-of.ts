import { type Analysis, analyseAudit } from '../analyses/index.ts';
import type { Cohort } from '../cohort/index.ts';
import type { Plan } from '../plan/plan.ts';
import { UserError } from './command.ts';

/** The audit of one quarter. A quarter that cannot be read is the user's to mend. */
export function auditOf(cohort: Cohort, plan: Plan, quarter: string): readonly Analysis[] {
  try {
    return analyseAudit(cohort, plan, quarter);
  } catch (error) {
    throw error instanceof RangeError && error.message.startsWith('quarter')
      ? new UserError(`--quarter: ${error.message}`, { cause: error })
      : error;
  }
}
