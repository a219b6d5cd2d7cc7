// Phase occupancy in the committed sample export against an independent recomputation in R that starts from the same CSV
// files (tests/reference/sample.md; survival, influences added up by infant).
import { beforeAll, describe, expect, it } from 'vitest';
import { type Analysis, phaseOccupancy } from '../../src/analyses/index.ts';
import { planWith } from '../cohort/hand-made.ts';
import { expectSame, measureOf, recomputed, recomputedColumn, sampleCohort } from './sample.ts';

// The recomputation follows the feet to week 20.
const plan = planWith({ occupancy: { weeks: 20 } });
const BANDS = ['all', 'mild', 'moderate', 'severe'] as const;

describe('phase occupancy in the sample', () => {
  let analysis: Analysis;

  beforeAll(async () => {
    analysis = phaseOccupancy(await sampleCohort(plan), plan);
  });

  it.each(BANDS)('agrees on the shares and their clustered errors week by week, %s', band => {
    const shares = analysis.finding.occupancy?.find(({ group }) => group === band);
    expect(shares?.states).toEqual(['24 hours', '15 hours', '12 hours', 'finished', 'left']);
    expectSame(Number(shares?.n), recomputed('phaseOccupancy', band, 'feet'), 'feet');
    expectSame(Number(shares?.infants), recomputed('phaseOccupancy', band, 'infants'), 'infants');
    for (const [place, week] of recomputedColumn('phaseOccupancy', band, 'week').entries()) {
      expect(shares?.week[place]).toBe(week);
      for (let state = 0; state < 5; state++) {
        const label = `state ${state}, week ${String(week)}`;
        expectSame(
          shares?.share[state]?.[place],
          recomputed('phaseOccupancy', band, 'probability', place, state),
          label,
        );
        expectSame(
          shares?.standardError[state]?.[place],
          recomputed('phaseOccupancy', band, 'standardError', place, state),
          `error, ${label}`,
        );
      }
    }
  });

  it.each(BANDS)('agrees on mean weeks in each state and their limits, %s', band => {
    const z = 1.959963984540054;
    for (const [place, state] of ['24 hours', '15 hours', '12 hours', 'finished', 'left'].entries()) {
      const measure = measureOf(analysis, `meanWeeks.${state}.${band}`);
      const mean = recomputed('phaseOccupancy', band, 'meanWeeks', place);
      const error = recomputed('phaseOccupancy', band, 'meanWeeksStandardError', place);
      expectSame(measure.estimate, mean, measure.key);
      if (error === 0) continue;
      expectSame(measure.lower, Math.max(0, Number(mean) - z * Number(error)), `${measure.key}, lower`);
      expectSame(measure.upper, Number(mean) + z * Number(error), `${measure.key}, upper`);
    }
  });
});
