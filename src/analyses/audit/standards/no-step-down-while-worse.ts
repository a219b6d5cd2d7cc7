import type { Cohort, Foot } from '../../../cohort/cohort.ts';
import type { Plan } from '../../../plan/plan.ts';
import { auditItem, type Standard } from '../standard.ts';

/** Step-downs of the quarter at which the bisector was no worse than the time before, where both positions are known. */
export function noStepDownWhileWorse(cohort: Cohort, plan: Plan): Standard {
  const { target, positionWithinDays } = plan.audit.noStepDownWhileWorse;
  const footOf = new Map(cohort.feet.map(foot => [foot.episode, foot]));
  return {
    key: 'no-step-down-while-worse',
    title: 'No step-down while worse',
    direction: 'at least',
    target,
    rule: `Step-downs of the quarter (to none included) with a bisector position on the day or within ${positionWithinDays} days before, and an earlier one, at which the position was not worse than the one before it.`,
    items: cohort.stepDowns.flatMap(({ episode, day }) => {
      const foot = footOf.get(episode);
      if (foot === undefined) return [];
      const [latest, before] = positionsUpTo(foot, day);
      if (latest === undefined || before === undefined) return [];
      if (latest.day < day - positionWithinDays) return [];
      return [auditItem(foot, day, latest.position <= before.position, plan)];
    }),
  };
}

interface Position {
  readonly day: number;
  readonly position: number;
}

/** Recorded bisector positions up to a day, the latest first; of those before day 0 only that of the baseline assessment. */
function positionsUpTo(foot: Foot, day: number): readonly Position[] {
  return foot.visits
    .flatMap((visit): readonly Position[] =>
      visit.bisectorPosition !== undefined &&
      visit.day <= day &&
      (visit.day >= 0 || visit.day === foot.baseline.day)
        ? [{ day: visit.day, position: visit.bisectorPosition }]
        : [],
    )
    .reverse();
}
