import type { Foot } from '../cohort/cohort.ts';
import type { Plan } from '../plan/plan.ts';
import { sampleQuantiles } from '../statistics/descriptive/index.ts';
import { followUpMeasure } from './duration/description.ts';
import { durationFollowUp } from './duration/follow-up.ts';
import type { Cell } from './finding.ts';
import { cellOf } from './tools/cells.ts';
import { weeks } from './tools/curves.ts';
import { countInfants } from './tools/people.ts';

/** One line of the baseline table: what stands in the cell of any group of feet. */
export interface BaselineLine {
  readonly label: string;
  readonly value: (feet: readonly Foot[]) => Cell;
}

/** Something recorded at baseline, or not. */
export interface BaselineItem {
  readonly key: string;
  readonly label: string;
  readonly valueOf: (foot: Foot) => string | number | undefined;
  /** The values in their order, for an item of a few; the others are summed up by median and quartiles. */
  readonly values?: readonly (string | number)[];
}

/** What is described at first fitting, in the order of the table. */
export const BASELINE_ITEMS: readonly BaselineItem[] = [
  {
    key: 'sex',
    label: 'Sex',
    values: ['female', 'male'],
    valueOf: foot => (foot.sex === 'not recorded' ? undefined : foot.sex),
  },
  { key: 'gestation', label: 'Gestation, weeks', valueOf: foot => foot.gestationalWeeks },
  { key: 'age', label: 'Age at first fitting, weeks', valueOf: foot => weeks(foot.ageAtStartDays) },
  {
    key: 'referral',
    label: 'Referral to first fitting, days',
    valueOf: foot => (foot.referralDate === undefined ? undefined : foot.startDate - foot.referralDate),
  },
  {
    key: 'bisector',
    label: 'Bisector position',
    values: [2, 2.5, 3, 3.5, 4, 4.5, 5],
    valueOf: foot => foot.baseline.bisectorPosition,
  },
  {
    key: 'flexibility',
    label: 'Flexibility',
    values: ['past straight', 'to straight', 'short of straight'],
    valueOf: foot => foot.baseline.flexibility,
  },
  {
    key: 'crease',
    label: 'Medial crease',
    values: ['present', 'absent'],
    valueOf: ({ baseline: { medialCrease } }) =>
      medialCrease === undefined ? undefined : medialCrease ? 'present' : 'absent',
  },
];

/** Feet and infants, what was recorded of them with a line for what was not, and how long they were followed. */
export function baselineLines(all: readonly Foot[], plan: Plan): readonly BaselineLine[] {
  const sites = [...new Set(all.map(foot => foot.site))].sort();
  return [
    { label: 'Feet', value: feet => feet.length },
    { label: 'Infants', value: feet => countInfants(feet) },
    { label: 'Both feet of the infant treated', value: feet => share(feet, foot => foot.bilateral) },
    { label: 'Left foot', value: feet => share(feet, foot => foot.side === 'left') },
    ...sites.map(site => ({
      label: `Site: ${site}`,
      value: (feet: readonly Foot[]) => share(feet, foot => foot.site === site),
    })),
    ...BASELINE_ITEMS.flatMap(itemLines),
    {
      label: 'Therapy observed, weeks',
      value: feet => quartiles(feet.map(foot => weeks(foot.lastDay))),
    },
    { label: 'Therapy observed, foot-weeks in all', value: feet => Math.round(footWeeks(feet)) },
    {
      label: 'Follow-up, weeks (reverse Kaplan–Meier median)',
      value: feet =>
        cellOf(
          followUpMeasure(
            'all',
            feet.map(foot => durationFollowUp(foot, plan)),
            plan,
          ),
        ),
    },
  ];
}

export function footWeeks(feet: readonly Foot[]): number {
  return feet.reduce((sum, foot) => sum + weeks(foot.lastDay), 0);
}

function itemLines({ label, values, valueOf }: BaselineItem): readonly BaselineLine[] {
  const recorded = (feet: readonly Foot[]): readonly Foot[] =>
    feet.filter(foot => valueOf(foot) !== undefined);
  const summary: readonly BaselineLine[] =
    values === undefined
      ? [{ label, value: feet => quartiles(feet.map(valueOf).filter(value => typeof value === 'number')) }]
      : values.map(value => ({
          label: `${label}: ${value}`,
          value: feet => share(recorded(feet), foot => valueOf(foot) === value),
        }));
  return [
    ...summary,
    { label: `${label}: not recorded`, value: feet => feet.length - recorded(feet).length },
  ];
}

function share(feet: readonly Foot[], holds: (foot: Foot) => boolean): Cell {
  return { count: feet.filter(holds).length, of: feet.length };
}

function quartiles(values: readonly number[]): Cell {
  if (values.length === 0) return undefined;
  const [lowerQuartile = 0, median = 0, upperQuartile = 0] = sampleQuantiles(values, [0.25, 0.5, 0.75]);
  return { median, lowerQuartile, upperQuartile };
}
