import { describe, expect, it } from 'vitest';
import { analyseExport, sensitivity } from '../../src/analyses/index.ts';
import {
  conclusionInWords,
  conclusionOfLimits,
  conclusionOfTest,
} from '../../src/analyses/sensitivity/conclusion.ts';
import { buildCohort } from '../../src/cohort/index.ts';
import { recordsFromRows } from '../../src/records/from-rows.ts';
import { type HandMadeFoot, PAST, planWith, rowsOf, TO } from '../cohort/hand-made.ts';
import { CUT_OFF_DAY, EIGHT_FEET } from './eight-feet.ts';
import { findingOf, rowNamed, tableOf } from './looking.ts';

const plain = (text: string): string => text.replaceAll(/[\u202F\u00A0]/g, ' ');

function table(feet: readonly HandMadeFoot[], fields: object = {}) {
  const records = recordsFromRows(rowsOf(feet, CUT_OFF_DAY));
  const plan = planWith(fields);
  const { finding } = sensitivity(records, buildCohort(records, plan), plan);
  const { columns } = tableOf(finding, 'sensitivity');
  const cell = (number: string, column: string) => {
    const row = rowNamed(finding, number);
    return row[column];
  };
  return { finding, columns, cell };
}

describe('one setting changed at a time', () => {
  // Position 4 past straight: moderate by the toe scheme, severe by the web scheme, mild by flexibility alone.
  const feet: readonly HandMadeFoot[] = [
    ...EIGHT_FEET,
    {
      id: 'x1',
      infant: 'twofold',
      seen: [
        [0, 4, PAST],
        [28, 2, PAST],
        [42, 3, PAST],
        [56, 2, PAST],
        [70, 2, PAST],
      ],
    },
    {
      id: 'x2',
      infant: 'twofold',
      side: 'right',
      seen: [
        [0, 3.5, TO],
        [56, 2, PAST],
      ],
    },
  ];
  const { cell, columns } = table(feet);

  it('has a column for each alternative and a dash where it does not touch the number', () => {
    expect(columns.map(({ key }) => key)).toEqual([
      'number',
      'main',
      'scheme-web',
      'bisector-alone',
      'flexibility-alone',
      'confirmed',
      'missing-days',
      'feet',
      'follow-up',
      'interval-censored',
    ]);
    expect(cell('Days covered', 'confirmed')).toBeUndefined();
    expect(cell('Seen corrected by week 8, mild', 'missing-days')).toBeUndefined();
  });

  it('counts by the other scheme and rules', () => {
    const moderate = 'Seen corrected by week 8, moderate';
    // Both x1 and x2 by day 56; the web scheme leaves x2 alone; by flexibility x1 is mild.
    expect(cell(moderate, 'main')).toMatchObject({ estimate: 1, kind: 'proportion' });
    expect(cell(moderate, 'scheme-web')).toMatchObject({ estimate: 1 });
    expect(cell('Seen corrected by week 8, severe', 'scheme-web')).toMatchObject({ estimate: 0.2 });
    expect(cell('Seen corrected by week 8, mild', 'flexibility-alone')).toMatchObject({
      estimate: expect.closeTo(0.6, 12),
    });
  });

  it('asks for confirmation at the next checkup', () => {
    // x1 was not confirmed after day 28, and is on day 56 by day 70; x2 has no later checkup.
    expect(cell('Median time to correction, moderate', 'confirmed')).toMatchObject({
      // Survival is 1/2 from day 56 to the cut-off: the midpoint.
      estimate: (56 + 120) / 2 / 7,
      kind: 'time',
    });
    expect(cell('Seen corrected by week 8, moderate', 'confirmed')).toMatchObject({ estimate: 0.5 });
  });

  it('keeps one foot per infant, and counts missing wear as not worn', () => {
    // Of twofold's two moderate feet the one with the lower code is kept: x1, corrected on day 28.
    expect(cell('Median time to correction, moderate', 'feet')).toMatchObject({ estimate: 4 });
    // m1 wore the brace on 20 days; adherence days are days 2 to 120.
    expect(cell('Days covered', 'main')).toMatchObject({ estimate: 1 });
    expect(cell('Days covered', 'missing-days')).toMatchObject({ estimate: 20 / 119 });
  });

  it('takes correction between checkups', () => {
    expect(cell('Median time to correction, mild', 'interval-censored')).toBe('2.0 to 6.0');
  });
});

describe('short follow-up', () => {
  it('leaves out feet fitted too shortly before the cut-off, whatever became of them', () => {
    // All hand-made feet start 120 days before the cut-off, 17 1/7 weeks.
    const kept = table(EIGHT_FEET, { sensitivity: { minimumFollowUpWeeks: 17 } });
    expect(kept.cell('Seen corrected by week 8, mild', 'follow-up')).toMatchObject({ estimate: 0.5 });
    const none = table(EIGHT_FEET, { sensitivity: { minimumFollowUpWeeks: 17.2 } });
    expect(none.cell('Seen corrected by week 8, mild', 'follow-up')).toBeUndefined();
  });
});

describe('the conclusion', () => {
  it('goes by the test and its direction, or by limits', () => {
    expect(conclusionOfTest(0.04, 'later', 0.95)).toBe('later');
    expect(conclusionOfTest(0.04, 'later', 0.99)).toBe('no trend shown');
    expect(conclusionOfTest(0.05, 'sooner', 0.95)).toBe('no trend shown');
    expect(conclusionOfTest(undefined, 'later', 0.95)).toBe('cannot be told');
    expect(conclusionOfLimits({ lower: 0.2, upper: 0.9 })).toBe('later');
    expect(conclusionOfLimits({ lower: 1.1, upper: 2 })).toBe('sooner');
    expect(conclusionOfLimits({ lower: 0.9, upper: 1.1 })).toBe('no trend shown');
    expect(conclusionOfLimits({})).toBe('cannot be told');
  });

  it('is told with the alternatives that change it and the share that moves most', () => {
    const share = {
      key: 's',
      label: 'Seen corrected by week 8',
      group: 'mild',
      kind: 'proportion',
      unit: 'of 1',
    } as const;
    const ratio = {
      key: 'cox.trend',
      label: '',
      kind: 'ratio',
      unit: '',
      estimate: 0.5,
      lower: 0.4,
      upper: 0.7,
    } as const;
    const main = {
      conclusion: 'later',
      numbers: [{ ...share, estimate: 0.6 }, ratio],
    } as const;
    const variant = (label: string, conclusion: 'later' | 'no trend shown', to: number) => ({
      label,
      conclusion,
      estimates: new Map([['s', to]]),
    });
    const text = (variants: Parameters<typeof conclusionInWords>[1]) =>
      plain(conclusionInWords(main, variants));
    expect(text([variant('Bisector alone', 'no trend shown', 0.5), variant('One foot', 'later', 0.75)])).toBe(
      'Feet of a worse band are corrected later (hazard ratio for each band further 0.50 (0.40 to 0.70)); this would change with bisector alone (no trend across bands is shown), and stands under 1 of 2 alternatives. The share that moves most is seen corrected by week 8, mild feet: from 60 % to 75 % with one foot.',
    );
    expect(text([variant('One foot', 'later', 0.6), variant('All feet', 'later', 0.6)])).toBe(
      'Feet of a worse band are corrected later (hazard ratio for each band further 0.50 (0.40 to 0.70)), and so it is under each of the 2 alternatives.',
    );
  });

  it('of the eight feet stands in these words', () => {
    expect(plain(table(EIGHT_FEET).finding.statement)).toBe(
      'Feet of a worse band are corrected later; this would change with correction confirmed at the next checkup (a trend across bands cannot be told), and stands under 6 of 7 alternatives. The share that moves most is lapsed by week 8: from 0 % to 100 % with missing wear as not worn.',
    );
  });
});

describe('the whole export', () => {
  it('is answered in one order, the sensitivity last and equal to that made alone', () => {
    const records = recordsFromRows(rowsOf(EIGHT_FEET, CUT_OFF_DAY));
    const analyses = analyseExport(records, planWith());
    expect(analyses.at(-1)?.finding.key).toBe('sensitivity');
    expect(findingOf(analyses, 'sensitivity')).toEqual(table(EIGHT_FEET).finding);
  });
});
