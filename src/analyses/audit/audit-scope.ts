import type { Cohort } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Period } from '../finding.ts';
import { type Quarter, quarterAt, quarterOf } from './quarter.ts';
import type { Standard } from './standard.ts';

/** What every part of an audit looks at: the cohort, the plan, the quarter reported, and what came under each standard. */
export interface AuditScope {
  readonly cohort: Cohort;
  readonly plan: Plan;
  readonly quarter: Quarter;
  readonly standards: readonly Standard[];
}

/** Up to so many quarters, the one reported last, none before the first fitting on record. */
export function quartersUpTo({ cohort, plan, quarter }: AuditScope, most: number): readonly Quarter[] {
  const { firstMonthOfYear } = plan.audit;
  const earliest = cohort.feet.reduce((day, foot) => Math.min(day, foot.startDate), quarter.lastDay);
  const first = Math.max(quarterOf(earliest, firstMonthOfYear).ordinal, quarter.ordinal - most + 1);
  return Array.from({ length: quarter.ordinal - first + 1 }, (_, i) =>
    quarterAt(first + i, firstMonthOfYear),
  );
}

/** A stretch of quarters as a period: `2025-Q4 to 2026-Q3`. */
export function periodOf(quarters: readonly Quarter[], last: Quarter): Period {
  const first = quarters[0] ?? last;
  return {
    name: first.ordinal === last.ordinal ? last.name : `${first.name} to ${last.name}`,
    firstDay: first.firstDay,
    lastDay: last.lastDay,
  };
}
