import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/analyses/finding.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { cohortFigures } from '../../src/reports/cohort/cohort-figures.ts';
import { meanCountFigure } from '../../src/reports/parts/mean-count-figures.ts';

const BARE: Finding = {
  key: 'relapse-after-step-down',
  version: 1,
  question: 'What became of step-downs?',
  statement: 'Nothing was seen.',
  population: { feet: 0, infants: 0, leftOut: [] },
  measures: [],
  curves: [],
  tests: [],
  tables: [],
  methods: [],
  cautions: [],
};

const MEAN = {
  key: 'meanCount.severe',
  group: 'severe',
  measure: 'Relapses a foot',
  timeUnit: 'weeks' as const,
  time: [0, 10, 40],
  mean: [0, 0.5, 3],
  standardError: [0, 0.1, 1],
  lower: [undefined, 0.3, 2],
  upper: [undefined, 0.8, 5],
  atRisk: [9, 8, 1],
  n: 9,
  infants: 7,
  events: 8,
};

const EFFECT = {
  panel: 'Hazard ratio of relapse, adjusted',
  kind: 'ratio' as const,
  key: 'cox.adjusted.severe',
  label: 'Severe',
  reference: 'mild',
  n: 741,
};

describe('figures of the cohort report', () => {
  it('are none where a finding has nothing to draw', () => {
    expect(cohortFigures(BARE, defaultPlan())).toEqual([]);
    expect(cohortFigures({ ...BARE, effects: [], meanCounts: [], occupancy: [] }, defaultPlan())).toEqual([]);
  });

  it('give a sentence with the state in the place of a forest without an estimate', () => {
    const blocks = cohortFigures({ ...BARE, effects: [{ ...EFFECT, state: 'too few' }] }, defaultPlan());
    expect(blocks).toEqual([
      {
        kind: 'paragraph',
        text: 'Hazard ratio of relapse, adjusted: no figure is drawn, since nothing could be estimated (too few).',
      },
    ]);
  });

  it('count step-downs as step-downs, and draw a limit of 0 on a ratio to the edge', () => {
    const effect = { ...EFFECT, estimate: 2, lower: 0, upper: 8 };
    const [block] = cohortFigures({ ...BARE, effects: [effect] }, defaultPlan());
    if (block?.kind !== 'figure') throw new Error('no figure');
    expect(block.figure.subtitle).toContain('741 step-downs');
    expect(block.figure.values?.rows[0]?.cells[0]).toBe('Severe');
  });
});

describe('figures of single questions', () => {
  const plan = defaultPlan();
  const weekRow = (week: number, feet: number, counts: readonly number[]) => ({
    week,
    feet,
    ...Object.fromEntries(counts.map((count, i) => [`class${i + 1}`, { count, of: feet }])),
  });
  const byWeek = (rows: readonly ReturnType<typeof weekRow>[]): Finding => ({
    ...BARE,
    key: 'adherence',
    tables: [
      {
        key: 'by-week',
        title: 'By week',
        columns: [1, 2, 3, 4, 5].map(i => ({ key: `class${i}`, label: `class ${i}`, kind: 'percent of n' })),
        rows,
        notes: [],
      },
    ],
  });

  it('state in the calendar the share under the threshold, in the first and last week with enough feet', () => {
    const rows = [
      weekRow(1, 40, [10, 10, 10, 8, 2]),
      weekRow(2, 20, [5, 5, 5, 5, 0]),
      weekRow(3, 9, [9, 0, 0, 0, 0]),
    ];
    const [block] = cohortFigures(byWeek(rows), plan);
    if (block?.kind !== 'figure') throw new Error('no figure');
    expect(block.figure.title).toBe(
      'Less than 80\u202F% of the hours was worn in 25\u202F% of feet in week 1 and in 25\u202F% in week 2',
    );
    expect(cohortFigures(byWeek(rows.slice(2)), plan)).toEqual([]);
    expect(cohortFigures(byWeek([]), plan)).toEqual([]);
  });

  it('draw no courses where none are told', () => {
    const none = { states: ['24 hours'], courses: [], n: 200, infants: 150 };
    expect(cohortFigures({ ...BARE, key: 'phase-occupancy', courses: none }, plan)).toEqual([]);
    const one = {
      stretches: [{ state: '24 hours', from: 0, to: 6 }],
      end: 'finished' as const,
      relapses: [],
    };
    const [block] = cohortFigures({ ...BARE, courses: { ...none, courses: [one] } }, plan);
    expect(block?.kind).toBe('figure');
  });

  it('quote in the figure of dated correction the measures of the worst band', () => {
    const measure = (key: string, group: string, estimate: number) => ({
      key: `${key}.week8.${group}`,
      label: key,
      group,
      kind: 'proportion' as const,
      unit: 'of 1',
      estimate,
    });
    const finding: Finding = {
      ...BARE,
      key: 'time-to-correction',
      measures: [
        measure('visit-dated', 'mild', 0.8),
        measure('visit-dated', 'severe', 0.3),
        measure('interval-censored.at-least', 'mild', 0.9),
        measure('interval-censored.at-least', 'severe', 0.45),
      ],
      plots: [
        {
          key: 'dating.severe',
          title: 'Severe',
          x: { label: 'Weeks' },
          y: { label: 'Share' },
          series: [
            { key: 'seen.severe', label: 'seen', group: 'severe', shape: 'steps', x: [0, 8], y: [0, 0.3] },
          ],
          references: [],
          reading: 'How to read it.',
          n: 30,
          infants: 20,
        },
      ],
    };
    const [block] = cohortFigures(finding, plan);
    if (block?.kind !== 'figure') throw new Error('no figure');
    expect(block.figure.title).toBe(
      'By week 8 checkups had shown 30\u202F% of severe feet corrected; allowing for the time between them, at least 45\u202F% were',
    );
    expect(cohortFigures({ ...finding, plots: [] }, plan)).toEqual([]);
  });
});

describe('the mean number of events', () => {
  it('is drawn to the last week at the height it had then', () => {
    const [block] = meanCountFigure({ ...BARE, meanCounts: [MEAN] }, 'm', ['severe'], {
      lastWeek: 24,
      level: 0.95,
      weekTicks: [0, 2, 6, 12, 24, 36],
    });
    if (block?.kind !== 'figure') throw new Error('no figure');
    expect(block.figure.title).toBe('Relapses a foot by week 24: severe 0.50');
    expect(block.figure.values?.rows.map(({ at }) => at)).toEqual([0, 10, 24]);
    expect(JSON.stringify(block.figure.specs.page)).toContain('"values":[0,2,6,12,24]');
  });

  it('is not drawn for groups that the finding does not have', () => {
    expect(
      meanCountFigure({ ...BARE, meanCounts: [MEAN] }, 'm', ['mild'], {
        lastWeek: 24,
        level: 0.95,
        weekTicks: [0],
      }),
    ).toEqual([]);
  });
});
