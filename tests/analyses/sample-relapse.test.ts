// Relapse in the committed sample export against an independent recomputation in R that starts from the same CSV files
// (tests/reference/sample.md; survival and by hand).
import { beforeAll, describe, it } from 'vitest';
import { type Analysis, relapseAfterStepDown } from '../../src/analyses/index.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import {
  expectSame,
  expectSameMeasure,
  measureOf,
  recomputed,
  recomputedColumn,
  sampleCohort,
} from './sample.ts';

const plan = defaultPlan();
const STEPS = ['24 to 15', '15 to 12', '12 to none', 'any step-down'] as const;
const BANDS = ['all', 'mild', 'moderate', 'severe'] as const;
const CELLS = STEPS.flatMap(step => BANDS.map(band => [step, band] as const));

describe('relapse after a step-down in the sample', () => {
  let analysis: Analysis;

  beforeAll(async () => {
    analysis = relapseAfterStepDown(await sampleCohort(plan), plan);
  });

  it.each(CELLS)('agrees on the counts of %s, %s', (step, band) => {
    const count = (key: string, ...path: readonly string[]): void =>
      expectSameMeasure(
        measureOf(analysis, `${key}.${step}.${band}`),
        recomputed('relapse', step, band, ...path),
      );
    count('stepDowns', 'stepDowns');
    count('followed', 'followed');
    count('notSeenAfter', 'notSeenAfterTheEnd');
    count('noReference', 'noReferenceAny');
    count('relapses', 'causes', 'relapse');
    count('ended as censored', 'causes', 'censored');
    count('ended as next step-down', 'causes', 'next step-down');
    count('ended as left therapy', 'causes', 'left therapy');
    expectSame(
      Number(measureOf(analysis, `followed.${step}.${band}`).infants),
      recomputed('relapse', step, band, 'incidence', 'infants'),
      'infants',
    );
  });

  it.each(CELLS)('agrees on the rate of %s, %s', (step, band) => {
    const rate = (field: string): unknown => recomputed('relapse', step, band, 'rate', field);
    expectSameMeasure(measureOf(analysis, `rate.${step}.${band}`), rate('per100'), [
      rate('lower'),
      rate('upper'),
    ]);
    expectSameMeasure(measureOf(analysis, `footWeeks.${step}.${band}`), rate('footWeeks'));
  });

  it.each(CELLS)('agrees on the risk of %s, %s, with clustered limits', (step, band) => {
    const incidence = (...path: readonly string[]): readonly unknown[] =>
      recomputedColumn('relapse', step, band, 'incidence', ...path);
    for (const [place, day] of incidence('day').entries()) {
      const measure = measureOf(analysis, `risk.week${Number(day) / 7}.${step}.${band}`);
      const risk = incidence('causes', 'relapse', 'incidence')[place];
      // A risk of 0 has no limits in the recomputation; ours has the exact one, tested by hand.
      const limits =
        risk === 0
          ? undefined
          : ([
              incidence('causes', 'relapse', 'lowerLogLog')[place],
              incidence('causes', 'relapse', 'upperLogLog')[place],
            ] as const);
      expectSameMeasure(measure, risk, limits);
    }
  });

  it.each(BANDS)('agrees on the mean cumulative count of relapses, %s', band => {
    const curve = analysis.finding.meanCounts?.find(({ group }) => group === band);
    const at = (field: string): readonly unknown[] =>
      recomputedColumn('relapse', 'meanCumulativeCount', band, field);
    expectSame(Number(curve?.n), recomputed('relapse', 'meanCumulativeCount', band, 'feet'), 'feet');
    for (const [row, day] of at('day').entries()) {
      const place = (curve?.time ?? []).findLastIndex(time => time <= Number(day) / 7 + 1e-9);
      expectSame(curve?.mean[place], at('mean')[row], `mean by day ${String(day)}`);
      expectSame(curve?.standardError[place], at('standardError')[row], `error by day ${String(day)}`);
    }
  });
});
