import { durationFollowUp, withTime } from '../../../src/analyses/duration/follow-up.ts';
import { completedFindings, isIncomplete } from '../../../src/analyses/duration/impute-findings.ts';
import type { Cohort } from '../../../src/cohort/index.ts';
import type { Plan } from '../../../src/plan/plan.ts';

/** What was drawn for one foot in one completed table, as text. */
export type DrawnRow = Readonly<
  Record<'imputation' | 'episode' | 'bisector' | 'flexibility' | 'crease' | 'sex', string>
>;

/** The findings of each foot that lacks one, as they stand in each completed table. */
export function drawnFindings(cohort: Cohort, plan: Plan): readonly DrawnRow[] {
  const items = withTime(
    cohort.feet.filter(foot => foot.band !== 'straight').map(foot => durationFollowUp(foot, plan)),
  );
  const incomplete = new Set(items.filter(isIncomplete).map(({ episode }) => episode));
  return completedFindings(items, plan).flatMap((table, place) =>
    table
      .filter(({ episode }) => incomplete.has(episode))
      .map(({ episode, foot: { baseline, sex } }) => ({
        imputation: String(place + 1),
        episode,
        bisector: String(baseline.bisectorPosition ?? ''),
        flexibility: baseline.flexibility ?? '',
        crease: baseline.medialCrease === undefined ? '' : baseline.medialCrease ? 'yes' : 'no',
        sex: sex ?? '',
      })),
  );
}
