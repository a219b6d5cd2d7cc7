// Skin events in the committed sample export against an independent recomputation in R that starts from the same CSV files
// (tests/reference/sample.md; survival and by hand).
import { beforeAll, describe, expect, it } from 'vitest';
import { type Analysis, skinSafety } from '../../src/analyses/index.ts';
import { planWith } from '../cohort/hand-made.ts';
import {
  expectSame,
  expectSameMeasure,
  measureOf,
  recomputed,
  recomputedColumn,
  sampleCohort,
} from './sample.ts';

const plan = planWith({ skin: { reportWeeks: [4, 8, 12, 16] } });
const KINDS = [
  'slight redness',
  'strong redness',
  'blister',
  'pressure sore',
  'brace pulled off',
  'unplanned pause',
  'blister or pressure sore',
  'any skin event',
] as const;

describe('skin events in the sample', () => {
  let analysis: Analysis;

  beforeAll(async () => {
    analysis = skinSafety(await sampleCohort(plan), plan);
  });

  it.each(KINDS)('agrees on the rates of %s, in all and by phase', kind => {
    const expectRate = (stretch: string, path: readonly string[]): void => {
      const value = (field: string): unknown => recomputed('skin', 'rates', kind, ...path, field);
      expectSameMeasure(measureOf(analysis, `events.${kind}.${stretch}`), value('events'));
      expectSameMeasure(measureOf(analysis, `footWeeks.${kind}.${stretch}`), value('footWeeks'));
      expectSameMeasure(measureOf(analysis, `rate.${kind}.${stretch}`), value('per100'), [
        value('lower'),
        value('upper'),
      ]);
    };
    expectRate('all', []);
    for (const hours of ['24', '15', '12']) expectRate(`${hours} hours`, ['byPhase', hours]);
    expectSameMeasure(measureOf(analysis, `feet.${kind}.all`), recomputed('skin', 'rates', kind, 'feet'));
  });

  it.each(KINDS)('agrees on the mean cumulative count of %s', kind => {
    const curve = analysis.finding.meanCounts?.find(({ group }) => group === kind);
    const at = (field: string): readonly unknown[] =>
      recomputedColumn('skin', 'meanCumulativeCount', kind, field);
    for (const [row, day] of at('day').entries()) {
      const place = (curve?.time ?? []).findLastIndex(time => time <= Number(day) / 7 + 1e-9);
      expectSame(curve?.mean[place], at('mean')[row], `mean by day ${String(day)}`);
      expectSame(curve?.standardError[place], at('standardError')[row], `error by day ${String(day)}`);
      expectSameMeasure(measureOf(analysis, `meanCount.week${Number(day) / 7}.${kind}`), at('mean')[row]);
    }
  });

  it.each(['all', 'mild', 'moderate', 'severe'])('agrees on the first blister or sore, %s', group => {
    const value = (field: string): unknown => recomputed('skin', 'firstBlisterOrSore', group, field);
    const column = (field: string): readonly unknown[] =>
      recomputedColumn('skin', 'firstBlisterOrSore', group, field);
    const events = measureOf(analysis, `firstSore.${group}`);
    expectSameMeasure(events, value('events'));
    for (const [place, day] of column('day').entries()) {
      const measure = measureOf(analysis, `firstSore.week${Number(day) / 7}.${group}`);
      expect(measure.n).toBe(value('n'));
      expectSameMeasure(measure, 1 - Number(column('survival')[place]), [
        1 - Number(column('upperLogLog')[place]),
        1 - Number(column('lowerLogLog')[place]),
      ]);
    }
  });
});
