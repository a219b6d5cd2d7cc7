import type { Cohort, Foot } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import { auditItem, type Standard } from '../standard.ts';

/** Feet first fitted in the quarter of which bisector, flexibility and crease are all recorded at baseline. */
export function baselineFindings(cohort: Cohort, plan: Plan): Standard {
  return {
    key: 'baseline-findings',
    title: 'Baseline findings recorded',
    direction: 'at least',
    target: plan.audit.baselineFindings.target,
    rule: 'Feet first fitted in the quarter with bisector position, flexibility and medial crease all recorded at baseline.',
    items: cohort.feet.map(foot => auditItem(foot, 0, allRecorded(foot), plan)),
  };
}

function allRecorded({ baseline }: Foot): boolean {
  return (
    baseline.bisectorPosition !== undefined &&
    baseline.flexibility !== undefined &&
    baseline.medialCrease !== undefined
  );
}
