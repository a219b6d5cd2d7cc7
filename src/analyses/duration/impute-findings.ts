import type { Flexibility } from '../../cohort/cohort.ts';
import { bisectorGrade, flexibilityGrade, severityBand } from '../../cohort/index.ts';
import type { Plan } from '../../plan/plan.ts';
import { multipleImputation } from '../../statistics/missing-data/index.ts';
import { nelsonAalen } from '../../statistics/survival/index.ts';
import type { DurationFollowUp } from './follow-up.ts';

const FLEXIBILITIES: readonly Flexibility[] = ['past straight', 'to straight', 'short of straight'];

/** What can be missing and is filled in, with the value as a number where it is recorded. */
export const IMPUTED: readonly {
  readonly key: 'bisector' | 'flexibility' | 'crease' | 'sex';
  readonly label: string;
  readonly value: (item: DurationFollowUp) => number | undefined;
}[] = [
  { key: 'bisector', label: 'Bisector position', value: ({ foot }) => foot.baseline.bisectorPosition },
  {
    key: 'flexibility',
    label: 'Flexibility',
    value: ({ foot: { baseline } }) =>
      baseline.flexibility === undefined ? undefined : FLEXIBILITIES.indexOf(baseline.flexibility),
  },
  {
    key: 'crease',
    label: 'Medial crease',
    value: ({ foot: { baseline } }) =>
      baseline.medialCrease === undefined ? undefined : Number(baseline.medialCrease),
  },
  {
    key: 'sex',
    label: 'Sex',
    value: ({ foot }) => (foot.sex === 'male' ? 1 : foot.sex === 'female' ? 0 : undefined),
  },
];

export function isIncomplete(item: DurationFollowUp): boolean {
  return IMPUTED.some(({ value }) => value(item) === undefined);
}

/**
 * Completed tables of the same feet, in which every foot has its findings and the band formed from them; feet that come
 * out straight are left out of that table. What goes into the imputation beside the findings: age, both feet treated,
 * site, whether the foot finished, whether it ended otherwise, and the Nelson-Aalen hazard of finishing at its last
 * day (White & Royston, Stat Med 2009;28:1982).
 *
 * @param items feet with a day of therapy, with or without a band
 */
export function imputeFindings(
  items: readonly DurationFollowUp[],
  plan: Plan,
): readonly (readonly DurationFollowUp[])[] {
  return completedFindings(items, plan).map(table => table.filter(item => item.foot.band !== 'straight'));
}

/** As `imputeFindings`, feet that come out straight still among them. */
export function completedFindings(
  items: readonly DurationFollowUp[],
  plan: Plan,
): readonly (readonly DurationFollowUp[])[] {
  const { completed } = multipleImputation(
    {
      ...Object.fromEntries(IMPUTED.map(({ key, value }) => [key, items.map(value)])),
      ...auxiliaries(items),
    },
    {
      seed: plan.seed,
      imputations: plan.imputation.imputations,
      iterations: plan.imputation.iterations,
    },
  );
  const incomplete = items.map(isIncomplete);
  return completed.map(table =>
    items.map((item, row) => (incomplete[row] === true ? filledIn(item, table, row, plan) : item)),
  );
}

function auxiliaries(items: readonly DurationFollowUp[]): Readonly<Record<string, readonly number[]>> {
  const event = items.map(item => item.cause === 1);
  const time = items.map(item => item.day);
  const hazard = nelsonAalen({ time, event });
  const byDay = new Map(hazard.time.map((day, place) => [day, hazard.cumulativeHazard[place] ?? 0]));
  const sites = [...new Set(items.map(item => item.foot.site))].sort();
  return {
    age: items.map(item => item.foot.ageAtStartDays),
    bilateral: items.map(item => Number(item.foot.bilateral)),
    finished: event.map(Number),
    endedOtherwise: items.map(item => Number(item.cause > 1)),
    hazard: time.map(day => byDay.get(day) ?? 0),
    ...Object.fromEntries(
      sites.slice(1).map(site => [`site ${site}`, items.map(item => Number(item.foot.site === site))]),
    ),
  };
}

function filledIn(
  item: DurationFollowUp,
  table: Readonly<Record<string, Float64Array>>,
  row: number,
  plan: Plan,
): DurationFollowUp {
  const { foot } = item;
  const drawn = (key: string): number => table[key]?.[row] ?? 0;
  const bisectorPosition = drawn('bisector');
  const flexibility = FLEXIBILITIES[drawn('flexibility')];
  const medialCrease = drawn('crease') === 1;
  const grades = {
    bisector: bisectorGrade(bisectorPosition, plan.severity.scheme),
    flexibility: flexibility && flexibilityGrade(flexibility),
    crease: medialCrease,
  };
  return {
    ...item,
    foot: {
      ...foot,
      sex: drawn('sex') === 1 ? 'male' : 'female',
      baseline: { ...foot.baseline, bisectorPosition, flexibility, medialCrease },
      band: severityBand(grades, plan.severity).band,
      bandMissing: [],
    },
  };
}
