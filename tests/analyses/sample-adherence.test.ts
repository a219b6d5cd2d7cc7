// Adherence in the committed sample export against an independent recomputation in R that starts from the same CSV files
// (tests/reference/sample.md; survival and by hand).
import { beforeAll, describe, expect, it } from 'vitest';
import { type Analysis, adherence, type Effect } from '../../src/analyses/index.ts';
import type { Cohort } from '../../src/cohort/index.ts';
import { blandAltman } from '../../src/statistics/agreement/index.ts';
import { planWith } from '../cohort/hand-made.ts';
import {
  expectSame,
  expectSameMeasure,
  measureOf,
  recomputed,
  recomputedColumn,
  recomputedDeeper,
  sampleCohort,
} from './sample.ts';

const RULES = [
  ['missing', 'missing'],
  ['not worn', 'notWorn'],
] as const;
const GROUPS = [
  ['all', ['all']],
  ['mild', ['byBand', 'mild']],
  ['moderate', ['byBand', 'moderate']],
  ['severe', ['byBand', 'severe']],
  ['24 hours', ['byPhase', '24']],
  ['15 hours', ['byPhase', '15']],
  ['12 hours', ['byPhase', '12']],
] as const;

describe.each(RULES)('adherence in the sample, missing days as %s', (missingDays, reference) => {
  // Every week that the recomputation lists is read.
  const plan = planWith({ adherence: { missingDays }, figures: { weekTicks: [0, 2, 6, 8, 12, 16] } });
  let analysis: Analysis;
  let cohort: Cohort;

  beforeAll(async () => {
    cohort = await sampleCohort(plan);
    analysis = adherence(cohort, plan);
  });

  it.each(GROUPS)('agrees on time to lapse and to discontinuation, %s', (group, path) => {
    for (const outcome of ['lapse', 'discontinuation']) {
      const value = (field: string): unknown => recomputed('adherence', reference, ...path, outcome, field);
      const column = (field: string): readonly unknown[] =>
        recomputedColumn('adherence', reference, ...path, outcome, field);
      const followed = measureOf(analysis, `followed.${outcome}.${group}`);
      expectSameMeasure(followed, value('n'));
      expectSame(Number(followed.infants), value('infants'), 'infants');
      expectSameMeasure(measureOf(analysis, `events.${outcome}.${group}`), value('events'));
      let read = 0;
      for (const [place, day] of column('day').entries()) {
        const key = `without.week${Number(day) / 7}.${outcome}.${group}`;
        const measure = analysis.finding.measures.find(candidate => candidate.key === key);
        if (measure === undefined) continue;
        read++;
        expectSameMeasure(measure, column('survival')[place], [
          column('lowerLogLog')[place],
          column('upperLogLog')[place],
        ]);
      }
      expect(read).toBeGreaterThan(0);
      const median = measureOf(analysis, `median.${outcome}.${group}`);
      const quantile = (field: string): number | undefined => {
        const found = recomputedColumn('adherence', reference, ...path, outcome, 'quantilesDays', field)[1];
        return typeof found === 'number' ? found / 7 : undefined;
      };
      expectSame(median.estimate, quantile('estimate'), median.key);
      if (median.estimate === undefined) continue;
      expectSameMeasure(median, quantile('estimate'), [quantile('lower'), quantile('upper')]);
    }
  });

  it('agrees on the difference between bands', () => {
    for (const outcome of ['lapse', 'discontinuation']) {
      const test = analysis.finding.tests.find(({ key }) => key === `log-rank.${outcome}`);
      expectSame(
        test?.statistic,
        recomputed('adherence', reference, 'logRank', outcome, 'statistic'),
        outcome,
      );
      expectSame(test?.pValue, recomputed('adherence', reference, 'logRank', outcome, 'p'), outcome);
    }
  });

  it('agrees on adherence by week: feet, median and quartiles', () => {
    const rows = analysis.finding.tables.find(({ key }) => key === 'by-week')?.rows ?? [];
    const column = (field: string): readonly unknown[] =>
      recomputedColumn('adherence', reference, 'byWeek', field);
    for (const [place, week] of column('week').entries()) {
      const row = rows.find(candidate => candidate.week === Number(week) + 1);
      expectSame(row?.feet as number, column('feet')[place], `feet, week ${String(week)}`);
      const quartiles = row?.adherence as Readonly<Record<string, number>>;
      for (const field of ['median', 'lowerQuartile', 'upperQuartile']) {
        expectSame(quartiles[field], column(field)[place], `${field}, week ${String(week)}`);
      }
    }
  });

  it('agrees on the feet in each class of adherence by week', () => {
    if (missingDays !== 'missing') return;
    const rows = analysis.finding.tables.find(({ key }) => key === 'by-week')?.rows ?? [];
    const fields = ['whole', 'high', 'covered', 'half', 'less'];
    const counts = (name: string): unknown => recomputedDeeper('weekClasses', name);
    const columns = fields.map(name => counts(name) as readonly number[]);
    expect(rows).toHaveLength(24);
    for (const [place, row] of rows.entries()) {
      expect(fields.map((_, i) => row[`class${i + 1}`])).toEqual(
        columns.map(column => ({ count: column[place], of: row.feet })),
      );
    }
  });

  it('agrees on the days covered of each foot', () => {
    for (const field of ['median', 'lowerQuartile', 'upperQuartile']) {
      expectSameMeasure(
        measureOf(analysis, `daysCovered.${field}.all`),
        recomputed('adherence', reference, 'daysCovered', field),
      );
      for (const band of ['mild', 'moderate', 'severe']) {
        expectSameMeasure(
          measureOf(analysis, `daysCovered.${field}.${band}`),
          recomputed('adherence', reference, 'daysCoveredByBand', band, field),
        );
      }
    }
  });

  it('agrees on diary against sensor, with days as independent', () => {
    const value = (field: string): unknown =>
      recomputed('adherence', 'diaryAgainstSensor', 'adherenceDays', field);
    expectSameMeasure(measureOf(analysis, 'diary.days'), value('days'));
    expectSameMeasure(measureOf(analysis, 'diary.feet'), value('feet'));
    expectSameMeasure(measureOf(analysis, 'diary.bias'), value('bias'));
    // The recomputation takes days as independent; so the differences themselves are compared.
    const pairs = cohort.feet.flatMap(({ pairedWear }) => (pairedWear === undefined ? [] : [pairedWear]));
    const together = blandAltman(
      pairs.flatMap(pair => Array.from(pair.diary)),
      pairs.flatMap(pair => Array.from(pair.sensor)),
      { multiplier: 1.959963984540054 },
    );
    expectSame(together.standardDeviation, value('standardDeviation'), 'standard deviation');
    expectSame(together.lowerLimit.estimate, value('lower'), 'lower limit');
    expectSame(together.upperLimit.estimate, value('upper'), 'upper limit');
  });

  it('agrees on the hazard of correction by lagged adherence, missing days left out', () => {
    const model = (name: string, field: string): readonly unknown[] =>
      recomputedColumn('adherence', 'correctionByLaggedAdherence', name, 'terms', field);
    expectSameMeasure(
      measureOf(analysis, 'model.footDays.missing'),
      recomputed('adherence', 'correctionByLaggedAdherence', 'footDaysWithValue'),
    );
    expectSameMeasure(
      measureOf(analysis, 'model.feet.missing'),
      recomputed('adherence', 'correctionByLaggedAdherence', 'feetWithValue'),
    );
    expectSameMeasure(
      measureOf(analysis, 'model.corrections.missing'),
      recomputed('adherence', 'correctionByLaggedAdherence', 'correctionsWithValue'),
    );
    const effect = (key: string): Effect | undefined =>
      analysis.finding.effects?.find(candidate => candidate.key === `cox.correction.missing.${key}`);
    // Ours is for 10 percentage points, theirs for the whole fraction.
    const expectRatio = (name: string, place: number, found: Effect | undefined, per: number): void => {
      for (const [field, value] of [
        ['coefficient', found?.estimate],
        ['lower', found?.lower],
        ['upper', found?.upper],
      ] as const) {
        expectSame(value, Math.exp(Number(model(name, field)[place]) / per), `${name} ${place} ${field}`);
      }
    };
    expectRatio('adherenceAlone', 0, effect('crude.adherence'), 10);
    expectRatio('withBand', 0, effect('adjusted.adherence'), 10);
    expectRatio('withBand', 1, effect('adjusted.moderate'), 1);
    expectRatio('withBand', 2, effect('adjusted.severe'), 1);
  });
});
