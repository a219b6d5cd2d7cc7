import type { Foot } from '../../cohort/cohort.ts';
import type { Plan } from '../../plan/plan.ts';
import { sampleQuantiles } from '../../statistics/descriptive/index.ts';
import { formatPercent, formatPercentNumber, THIN_SPACE } from '../../wording/format.ts';
import type { FindingTable, Measure, TraceEntry } from '../finding.ts';
import { DAYS_IN_WEEK } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import { traceFeet } from '../tools/trace.ts';

export interface Quartiles {
  readonly median: number;
  readonly lowerQuartile: number;
  readonly upperQuartile: number;
}

/** The mean daily adherences of the feet with data in one week since first fitting, counted from 1. */
export interface WeekOfAdherence extends Quartiles {
  readonly week: number;
  readonly withData: readonly Foot[];
  readonly feet: number;
  readonly infants: number;
  /** Feet in each class of `weekClasses`, the highest first. */
  readonly classes: readonly number[];
}

/** A class of adherence: from its lower end on, up to the one above. */
export interface WeekClass {
  readonly key: string;
  readonly label: string;
  readonly from: number;
}

/** The classes of the plan, the highest first; the last begins at 0. */
export function weekClasses(plan: Plan): readonly WeekClass[] {
  const ends = [...new Set(plan.adherence.weekClasses)].sort((a, b) => b - a);
  return [...ends, 0].map((from, place): WeekClass => {
    const above = ends[place - 1];
    const words =
      above === undefined
        ? `${formatPercentNumber(from)}${THIN_SPACE}% and more`
        : from === 0
          ? `under ${formatPercent(above)}`
          : `${formatPercentNumber(from)} to under ${formatPercent(above)}`;
    return { key: `class${place + 1}`, label: words, from };
  });
}

/** A threshold counts as reached to within this. */
const ROUNDING = 1e-9;

/** @param values at least one */
export function quartilesOf(values: readonly number[]): Quartiles {
  const [lowerQuartile = 0, median = 0, upperQuartile = 0] = sampleQuantiles(values, [0.25, 0.5, 0.75]);
  return { median, lowerQuartile, upperQuartile };
}

/** Adherence by week, as far as the plan's last week shown; weeks without data are left out. */
export function adherenceByWeek(feet: readonly Foot[], plan: Plan): readonly WeekOfAdherence[] {
  const last = Math.floor(plan.figures.lastWeek);
  const classes = weekClasses(plan);
  const means: number[][] = Array.from({ length: last }, () => []);
  const withData: Foot[][] = Array.from({ length: last }, () => []);
  for (const foot of feet) {
    const { wear } = foot;
    if (wear === undefined) continue;
    let place = 0;
    while (place < wear.day.length) {
      const week = Math.floor((wear.day[place] as number) / DAYS_IN_WEEK);
      let sum = 0;
      let days = 0;
      for (; place < wear.day.length && (wear.day[place] as number) < (week + 1) * DAYS_IN_WEEK; place++) {
        sum += (wear.hours[place] as number) / (wear.expected[place] as number);
        days++;
      }
      means[week]?.push(sum / days);
      withData[week]?.push(foot);
    }
  }
  return means.flatMap((values, place) =>
    values.length === 0
      ? []
      : [
          {
            week: place + 1,
            withData: withData[place] ?? [],
            feet: values.length,
            infants: countInfants(withData[place] ?? []),
            ...quartilesOf(values),
            classes: countClasses(values, classes),
          },
        ],
  );
}

function countClasses(values: readonly number[], classes: readonly WeekClass[]): readonly number[] {
  const counts = classes.map(() => 0);
  for (const value of values) {
    const place = classes.findIndex(({ from }) => value >= from - ROUNDING);
    counts[place] = (counts[place] ?? 0) + 1;
  }
  return counts;
}

export function weekMeasures(byWeek: readonly WeekOfAdherence[]): readonly Measure[] {
  return byWeek.map(({ week, feet, infants, median }) => ({
    key: `adherence.week${week}`,
    label: `Median adherence in week ${week}`,
    kind: 'proportion',
    unit: 'of 1',
    estimate: median,
    n: feet,
    infants,
  }));
}

export function weekTrace(byWeek: readonly WeekOfAdherence[]): Readonly<Record<string, TraceEntry>> {
  return Object.fromEntries(
    byWeek.map(({ week, withData }) => [
      `feet.week${week}`,
      traceFeet(`wear data on an adherence day of week ${week} since first fitting`, withData),
    ]),
  );
}

export function weekTable(byWeek: readonly WeekOfAdherence[], plan: Plan): FindingTable {
  const classes = weekClasses(plan);
  return {
    key: 'by-week',
    title: 'Hours worn over hours expected, by week since first fitting',
    columns: [
      { key: 'week', label: 'Week', kind: 'number' },
      { key: 'feet', label: 'Feet with data', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      { key: 'adherence', label: 'Median (quartiles)', unit: '%', kind: 'proportion' },
      ...classes.map(({ key, label }) => ({ key, label, kind: 'percent of n' as const })),
    ],
    rows: byWeek.map(({ week, feet, infants, median, lowerQuartile, upperQuartile, classes: counts }) => ({
      week,
      feet,
      infants,
      adherence: { median, lowerQuartile, upperQuartile },
      ...Object.fromEntries(classes.map(({ key }, place) => [key, { count: counts[place] ?? 0, of: feet }])),
    })),
    notes: ['Each foot counts with the mean of its days with data in the week; week 1 is days 0 to 6.'],
  };
}
