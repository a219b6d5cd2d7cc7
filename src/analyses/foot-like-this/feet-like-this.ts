import type { Band, Flexibility, Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { formatTick } from '../../wording/format.ts';
import { DAYS_IN_WEEK } from '../tools/curves.ts';

/** The findings by which a foot is compared; what is not given does not matter. */
export interface FootDescription {
  readonly band: Band;
  readonly flexibility?: Flexibility;
  readonly crease?: boolean;
  /** One of `ageGroups`. */
  readonly ageGroup?: string;
}

/** The age groups of the plan in words, youngest first: `under 13 weeks`, `13 to under 26 weeks`, `26 weeks and more`. */
export function ageGroups(plan: Plan): readonly string[] {
  const limits = ageLimits(plan);
  const first = limits[0];
  if (first === undefined) return ['any age'];
  return [
    `under ${formatTick(first)} weeks`,
    ...limits
      .slice(1)
      .map((limit, place) => `${formatTick(limits[place] ?? 0)} to under ${formatTick(limit)} weeks`),
    `${formatTick(limits.at(-1) ?? first)} weeks and more`,
  ];
}

/** The group of an age at first fitting in days. */
export function ageGroupOf(ageDays: number, plan: Plan): string {
  const passed = ageLimits(plan).filter(limit => ageDays >= limit * DAYS_IN_WEEK).length;
  return ageGroups(plan)[passed] ?? '';
}

function ageLimits(plan: Plan): readonly number[] {
  return [...new Set(plan.counselling.ageGroupWeeks)].sort((a, b) => a - b);
}

/** The feet of the cohort that answer to a description. A finding that is asked for and not recorded does not match. */
export function feetLikeThis(
  feet: readonly Foot[],
  plan: Plan,
  { band, flexibility, crease, ageGroup }: FootDescription,
): readonly Foot[] {
  return feet.filter(
    foot =>
      foot.band === band &&
      (flexibility === undefined || foot.baseline.flexibility === flexibility) &&
      (crease === undefined || foot.baseline.medialCrease === crease) &&
      (ageGroup === undefined || ageGroupOf(foot.ageAtStartDays, plan) === ageGroup),
  );
}

/** Such as `severe, short of straight, with a medial crease, under 13 weeks at first fitting`. */
export function descriptionInWords({ band, flexibility, crease, ageGroup }: FootDescription): string {
  return [
    band,
    ...(flexibility === undefined ? [] : [flexibility]),
    ...(crease === undefined ? [] : [crease ? 'with a medial crease' : 'without a medial crease']),
    ...(ageGroup === undefined ? [] : [`${ageGroup} at first fitting`]),
  ].join(', ');
}
