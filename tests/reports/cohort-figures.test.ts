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

describe('the mean number of events', () => {
  it('is drawn to the last week at the height it had then', () => {
    const [block] = meanCountFigure({ ...BARE, meanCounts: [MEAN] }, 'm', ['severe'], {
      lastWeek: 24,
      level: 0.95,
    });
    if (block?.kind !== 'figure') throw new Error('no figure');
    expect(block.figure.title).toBe('Relapses a foot by week 24: severe 0.50');
    expect(block.figure.values?.rows.map(({ at }) => at)).toEqual([0, 10, 24]);
  });

  it('is not drawn for groups that the finding does not have', () => {
    expect(
      meanCountFigure({ ...BARE, meanCounts: [MEAN] }, 'm', ['mild'], { lastWeek: 24, level: 0.95 }),
    ).toEqual([]);
  });
});
