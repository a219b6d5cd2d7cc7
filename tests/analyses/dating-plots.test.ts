import { beforeAll, describe, expect, it } from 'vitest';
import type { Analysis } from '../../src/analyses/index.ts';
import type { PlotSeries } from '../../src/analyses/plots.ts';
import { timeToCorrection } from '../../src/analyses/time-to-correction/time-to-correction.ts';
import { defaultPlan } from '../../src/plan/plan.ts';
import { measureOf, sampleCohort } from './sample.ts';

const BANDS = ['mild', 'moderate', 'severe'];
let analysis: Analysis;

beforeAll(async () => {
  const plan = defaultPlan();
  analysis = timeToCorrection(await sampleCohort(plan), plan);
}, 60_000);

function seriesOf(key: string): PlotSeries {
  const found = analysis.finding.plots?.flatMap(({ series }) => series).find(one => one.key === key);
  if (found === undefined) throw new Error(`no series ${key}`);
  return found;
}

/** The height in force at a week: that of the last place at or before it. */
function heightAt({ x }: PlotSeries, heights: readonly (number | undefined)[], week: number): number {
  return heights[x.findLastIndex(at => at <= week + 1e-9)] ?? Number.NaN;
}

describe('the plots of dated correction', () => {
  it('pass through the shares that the finding quotes, each of which is checked against R', () => {
    for (const band of BANDS) {
      for (const week of [6, 8, 12, 16]) {
        const seen = seriesOf(`seen.${band}`);
        expect(heightAt(seen, seen.y, week)).toBeCloseTo(
          measureOf(analysis, `visit-dated.week${week}.${band}`).estimate ?? Number.NaN,
          12,
        );
        const between = seriesOf(`between.${band}`);
        expect(heightAt(between, between.y, week)).toBeCloseTo(
          measureOf(analysis, `interval-censored.at-least.week${week}.${band}`).estimate ?? Number.NaN,
          12,
        );
        const model = seriesOf(`weibull.${band}`);
        expect(model.y[week]).toBeCloseTo(
          measureOf(analysis, `weibull.week${week}.${band}`).estimate ?? Number.NaN,
          12,
        );
      }
    }
  });

  it('never fall, end by the last week drawn, and keep at least under at most', () => {
    for (const band of BANDS) {
      for (const key of [`seen.${band}`, `between.${band}`, `weibull.${band}`]) {
        const { x, y } = seriesOf(key);
        expect([...x].sort((a, b) => a - b)).toEqual(x);
        expect(x.at(-1)).toBeLessThanOrEqual(24);
        for (const [i, height] of y.entries()) expect(height).toBeGreaterThanOrEqual((y[i - 1] ?? 0) - 1e-12);
      }
      const { y, upper } = seriesOf(`between.${band}`);
      for (const [i, height] of y.entries()) expect(upper?.[i]).toBeGreaterThanOrEqual(height);
    }
  });

  it('open at the beginning of a stretch and close at its end', () => {
    const { x, y, upper } = seriesOf('between.severe');
    const open = x.flatMap((_, i) => ((upper?.[i] ?? 0) - (y[i] ?? 0) > 1e-6 ? [i] : []));
    expect(open.length).toBeGreaterThan(0);
    for (const i of open) expect(y[i + 1] ?? 1).toBeCloseTo(upper?.[i] ?? Number.NaN, 9);
  });
});
