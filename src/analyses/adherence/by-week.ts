import type { Foot } from '../../cohort/cohort.ts';
import { adherenceInWeek } from '../../cohort/index.ts';
import type { Plan } from '../../plan/plan.ts';
import { sampleQuantiles } from '../../statistics/descriptive/index.ts';
import type { FindingTable, Measure } from '../finding.ts';
import { countInfants } from '../tools/people.ts';

export interface Quartiles {
  readonly median: number;
  readonly lowerQuartile: number;
  readonly upperQuartile: number;
}

/** The mean daily adherences of the feet with data in one week since first fitting, counted from 1. */
export interface WeekOfAdherence extends Quartiles {
  readonly week: number;
  readonly feet: number;
  readonly infants: number;
}

/** @param values at least one */
export function quartilesOf(values: readonly number[]): Quartiles {
  const [lowerQuartile = 0, median = 0, upperQuartile = 0] = sampleQuantiles(values, [0.25, 0.5, 0.75]);
  return { median, lowerQuartile, upperQuartile };
}

/** Adherence by week, as far as the plan's last week shown; weeks without data are left out. */
export function adherenceByWeek(feet: readonly Foot[], plan: Plan): readonly WeekOfAdherence[] {
  const last = Math.floor(plan.figures.lastWeek);
  return Array.from({ length: last }, (_, place) => place + 1).flatMap(week => {
    const rows = feet.flatMap(foot => {
      const mean = foot.wear && adherenceInWeek(foot.wear, week - 1, plan).meanDaily;
      return mean === undefined ? [] : [{ episode: foot.episode, infant: foot.infant, mean }];
    });
    if (rows.length === 0) return [];
    return [
      {
        week,
        feet: rows.length,
        infants: countInfants(rows),
        ...quartilesOf(rows.map(row => row.mean)),
      },
    ];
  });
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

export function weekTable(byWeek: readonly WeekOfAdherence[]): FindingTable {
  return {
    key: 'by-week',
    title: 'Hours worn over hours expected, by week since first fitting',
    columns: [
      { key: 'week', label: 'Week', kind: 'number' },
      { key: 'feet', label: 'Feet with data', kind: 'count' },
      { key: 'infants', label: 'Infants', kind: 'count' },
      { key: 'adherence', label: 'Median (quartiles)', unit: '%', kind: 'proportion' },
    ],
    rows: byWeek.map(({ week, feet, infants, median, lowerQuartile, upperQuartile }) => ({
      week,
      feet,
      infants,
      adherence: { median, lowerQuartile, upperQuartile },
    })),
    notes: ['Each foot counts with the mean of its days with data in the week; week 1 is days 0 to 6.'],
  };
}
