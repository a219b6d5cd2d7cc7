import type { Plan } from '../plan/plan.ts';
import type { AssessmentRow } from '../records/rows.ts';
import type { Baseline } from './cohort.ts';
import { bisectorGrade, flexibilityGrade } from './severity-band.ts';

/**
 * The baseline assessment: of kind baseline, nearest to first fitting within the window of the plan, the earlier of two
 * equally near. Every field is undefined if there is none.
 *
 * @param counting the assessments that count, one a day, by date
 */
export function baselineOf(counting: readonly AssessmentRow[], startDate: number, plan: Plan): Baseline {
  let nearest: AssessmentRow | undefined;
  let distance = plan.baseline.windowDays;
  for (const row of counting) {
    const away = Math.abs(row.date - startDate);
    if (row.kind !== 'baseline' || away > distance || (nearest !== undefined && away === distance)) continue;
    nearest = row;
    distance = away;
  }
  const position = nearest?.bisector_position;
  const flexibility = nearest?.flexibility;
  return {
    day: nearest === undefined ? undefined : nearest.date - startDate,
    bisectorPosition: position,
    bisectorAngleDegrees: nearest?.bisector_angle_degrees,
    flexibility,
    medialCrease: nearest?.medial_crease,
    bisectorGrade: position === undefined ? undefined : bisectorGrade(position, plan.severity.scheme),
    flexibilityGrade: flexibility === undefined ? undefined : flexibilityGrade(flexibility),
  };
}
