import { describe, expect, it } from 'vitest';
import { continuedTicks, weekTicks } from '../../src/analyses/tools/week-ticks.ts';
import { defaultPlan, type Plan } from '../../src/plan/plan.ts';
import { adherence } from '../../src/analyses/adherence.ts';
import { phaseOccupancy } from '../../src/analyses/phase-occupancy.ts';
import { skinSafety } from '../../src/analyses/skin-safety.ts';
import { sampleCohort } from './sample.ts';

function planWith(weeks: readonly number[], lastWeek: number): Plan {
  const plan = defaultPlan();
  return { ...plan, figures: { ...plan.figures, weekTicks: [...weeks], lastWeek } };
}

describe('the weeks at which those at risk are counted', () => {
  it.each([
    { given: [0, 2, 6, 9, 12, 16], lastWeek: 24, ticks: [0, 2, 6, 9, 12, 16, 20, 24] },
    { given: [0, 2, 6, 9, 12, 16], lastWeek: 16, ticks: [0, 2, 6, 9, 12, 16] },
    { given: [0, 2, 6, 9, 12, 16], lastWeek: 10, ticks: [0, 2, 6, 9] },
    { given: [0, 2, 6, 9, 12, 16], lastWeek: 11, ticks: [0, 2, 6, 9, 11] },
    { given: [0, 6, 12], lastWeek: 21, ticks: [0, 6, 12, 18, 21] },
    { given: [0, 6, 12], lastWeek: 20, ticks: [0, 6, 12, 18] },
  ])('go on from $given to week $lastWeek as $ticks', ({ given, lastWeek, ticks }) => {
    expect(weekTicks(planWith(given, lastWeek))).toEqual(ticks);
  });

  it('stop where nothing follows, and do not run on for ever from equal ticks', () => {
    expect(continuedTicks([0, 4, 8], 3)).toEqual([0]);
    expect(continuedTicks([0, 0], 3)).toEqual([0, 0]);
    expect(continuedTicks([0, 4], 12)).toEqual([0, 4, 8, 12]);
  });

  it('are the same for every group of a family, and the counts at each add up to its feet', async () => {
    const plan = defaultPlan();
    const cohort = await sampleCohort(plan);
    const curves = [adherence, phaseOccupancy, skinSafety].flatMap(
      answer => answer(cohort, plan).finding.curves,
    );
    expect(curves.length).toBeGreaterThan(20);
    for (const { riskTable, n } of curves) {
      expect(riskTable.time).toEqual([0, 2, 6, 9, 12, 16, 20, 24]);
      const sums = riskTable.time.map((_, k) =>
        [riskTable.atRisk, riskTable.events, riskTable.censored, riskTable.competing].reduce(
          (sum, row) => sum + Number(row[k]),
          0,
        ),
      );
      expect(sums).toEqual(riskTable.time.map(() => n));
    }
  });
});
