import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Analysis } from '../finding.ts';
import { audit } from './audit.ts';
import { auditCharts } from './audit-charts.ts';
import { auditComparison } from './audit-comparison.ts';
import { overdueCheckups } from './overdue-checkups.ts';
import { type Quarter, quarterNamed } from './quarter.ts';
import { auditStandards } from './standards/index.ts';

export { SKIN_CHART } from './audit-charts.ts';
export { type Quarter, quarterAt, quarterNamed, quarterOf } from './quarter.ts';
export type { AuditItem, Standard } from './standard.ts';
export { auditStandards } from './standards/index.ts';

/**
 * The quarterly audit: standards, charts over the quarters, sites and clinicians, overdue checkups.
 *
 * @param quarter `previous`, or a name such as `2026-Q3`
 * @throws RangeError for a quarter that cannot be read or lies after the data cut-off
 */
export function analyseAudit(
  cohort: Cohort,
  plan: Plan,
  quarter: string | Quarter = 'previous',
): readonly Analysis[] {
  const chosen =
    typeof quarter === 'string' ? quarterNamed(quarter, cohort.cutOff, plan.audit.firstMonthOfYear) : quarter;
  const scope = { cohort, plan, quarter: chosen, standards: auditStandards(cohort, plan) };
  return [audit(scope), auditCharts(scope), auditComparison(scope), overdueCheckups(cohort, plan)];
}
