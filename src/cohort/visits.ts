import type { Plan } from '../plan/plan.ts';
import type { AssessmentRow } from '../records/rows.ts';
import type { Flexibility, Visit } from './cohort.ts';
import { compareCodes } from './group-by-episode.ts';

/**
 * The one assessment of each day that counts, by date: the treating clinician's, else the first assessor by code,
 * a blank one last. Rows are of one foot, in any order.
 */
export function countingAssessments(
  rows: readonly AssessmentRow[],
  clinician: string | undefined,
): readonly AssessmentRow[] {
  const byDate = new Map<number, AssessmentRow>();
  for (const row of rows) {
    const held = byDate.get(row.date);
    if (held === undefined || comesBefore(row, held, clinician)) byDate.set(row.date, row);
  }
  return [...byDate.values()].sort((a, b) => a.date - b.date);
}

function comesBefore(row: AssessmentRow, held: AssessmentRow, clinician: string | undefined): boolean {
  if (held.assessor_id === undefined) return row.assessor_id !== undefined;
  if (row.assessor_id === undefined || held.assessor_id === clinician) return false;
  return row.assessor_id === clinician || compareCodes(row.assessor_id, held.assessor_id) < 0;
}

/** Visits of one foot by day since first fitting, made of the assessments that count. */
export function visitsOf(
  counting: readonly AssessmentRow[],
  startDate: number,
  plan: Plan,
): readonly Visit[] {
  return counting.map(row => ({
    day: row.date - startDate,
    kind: row.kind,
    assessor: row.assessor_id,
    bisectorPosition: row.bisector_position,
    flexibility: row.flexibility,
    medialCrease: row.medial_crease,
    decision: row.decision,
    state: assessmentState(row.bisector_position, row.flexibility, plan.correction),
  }));
}

/**
 * Whether an assessment shows a corrected foot: both findings meet the criterion. One recorded finding that fails makes
 * it uncorrected, whatever the other; else a missing finding makes it not evaluable.
 */
export function assessmentState(
  bisectorPosition: number | undefined,
  flexibility: Flexibility | undefined,
  criterion: Pick<Plan['correction'], 'bisectorAtMost' | 'flexibility'>,
): Visit['state'] {
  const bisectorFails = bisectorPosition !== undefined && bisectorPosition > criterion.bisectorAtMost;
  const flexibilityFails = flexibility !== undefined && !criterion.flexibility.includes(flexibility);
  if (bisectorFails || flexibilityFails) return 'uncorrected';
  return bisectorPosition === undefined || flexibility === undefined ? 'not evaluable' : 'corrected';
}
