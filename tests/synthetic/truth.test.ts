import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { jsonText } from '../../src/synthetic/json-text.ts';
import { namedScenario } from '../../src/synthetic/scenarios/index.ts';
import { truthOf } from '../../src/synthetic/truth.ts';

const withInfants = (name: string, infants: number) => {
  const scenario = namedScenario(name);
  return { ...scenario, truth: { ...scenario.truth, infants } };
};
const truth = truthOf(withInfants('ordinary-clinic', 2500), 240, 7);

describe('the truth of a scenario', () => {
  it('repeats by seed', () => {
    const small = withInfants('ordinary-clinic', 50);
    expect(truthOf(small, 240, 7)).toEqual(truthOf(small, 240, 7));
    expect(truthOf(small, 240, 7)).not.toEqual(truthOf(small, 240, 8));
  });

  it('has incidences that rise, that add up to 1 at most, and that are seen no earlier than true', () => {
    for (const band of truth.correction.bands) {
      const { trueIncidence, seenIncidence } = band;
      for (const curve of [trueIncidence, seenIncidence, band.referredIncidence]) {
        expect(curve.every((share, i) => i === 0 || share >= (curve[i - 1] ?? 0))).toBe(true);
        expect(curve.length).toBe(truth.weeks.length);
      }
      expect(trueIncidence[0]).toBe(0);
      // A checkup comes after the day of correction; a foot may be back before it is seen.
      expect(seenIncidence.every((share, week) => share <= (trueIncidence[week] ?? 0) + 1e-9)).toBe(true);
      const last = [
        seenIncidence,
        band.referredIncidence,
        band.withdrawnIncidence,
        band.finishedUncorrectedIncidence,
      ];
      const sum = last.reduce((total, curve) => total + (curve.at(-1) ?? 0), 0);
      expect(sum).toBeLessThanOrEqual(1 + 1e-5);
      expect(sum).toBeGreaterThan(0.9);
    }
  });

  it('has hazards that fall from mild to severe', () => {
    const ratios = truth.correction.bands.map(band => band.hazardRatioByHoursWorn ?? 0);
    expect(ratios[0]).toBe(1);
    expect(ratios[1]).toBeLessThan(0.85);
    expect(ratios[2]).toBeLessThan((ratios[1] ?? 0) - 0.15);
    const { hazardRatioPerStiffness, shape, logHoursPerStiffness } = truth.hazard;
    expect(hazardRatioPerStiffness).toBeCloseTo(Math.exp(-shape * logHoursPerStiffness), 6);
  });

  it('has none where severity has no effect', () => {
    const none = truthOf(withInfants('no-effect-of-severity', 5000), 240, 5);
    for (const { hazardRatioByHoursWorn, hazardRatioByWeeks } of none.correction.bands) {
      // 5,000 infants, about 1,100 severe feet: standard error of a log ratio about 0.04.
      expect(Math.abs((hazardRatioByHoursWorn ?? 0) - 1)).toBeLessThan(0.1);
      expect(Math.abs((hazardRatioByWeeks ?? 0) - 1)).toBeLessThan(0.1);
    }
  });

  it('has every foot in one state at each week', () => {
    for (const week of truth.weeks) {
      const sum = truth.occupancy.reduce((total, { share }) => total + (share[week] ?? 0), 0);
      expect(sum).toBeCloseTo(1, 4);
    }
    expect(truth.occupancy[0]?.share[0]).toBe(1);
  });

  it('has feet fitted on working days, as those of an export are', () => {
    // From a weekend, a checkup two weeks on would be moved off its day.
    const scenario = withInfants('ordinary-clinic', 400);
    const punctual = {
      ...scenario,
      visits: { ...scenario.visits, jitterDays: 0, missedShare: 0 },
    };
    const firstCheckups = new Set<number>();
    truthOf(punctual, 240, 7, foot => {
      const first = foot.visits.find(({ kind }) => kind === 'checkup');
      if (first) firstCheckups.add(first.day);
    });
    expect(firstCheckups).toEqual(new Set([punctual.visits.firstDay]));
  });

  it('has durations that are longer the stiffer the feet, and shares finished that rise', () => {
    const { bands } = truth.durations;
    expect(bands.map(({ band }) => band)).toEqual(['mild', 'moderate', 'severe']);
    expect(bands.map(({ feet }) => feet)).toEqual(truth.correction.bands.map(({ feet }) => feet));
    const medians = bands.map(({ medianWeeks }) => medianWeeks ?? 0);
    expect(medians.every((weeks, i) => weeks > 10 && weeks >= (medians[i - 1] ?? 0))).toBe(true);
    for (const { finishedIncidence, medianWeeks = 0 } of bands) {
      expect(finishedIncidence.every((share, i) => share >= (finishedIncidence[i - 1] ?? 0))).toBe(true);
      // Those ended otherwise never finish, so half have finished later than at the median of those censored.
      expect(finishedIncidence[Math.floor(medianWeeks)]).toBeLessThan(0.5);
    }
  });

  it('has what an audit should find, quarter by quarter', () => {
    const { quarters, changes } = truth.audit;
    expect(quarters.map(({ quarter }) => quarter).slice(0, 5)).toEqual([
      '2023-Q1',
      '2023-Q2',
      '2023-Q3',
      '2023-Q4',
      '2024-Q1',
    ]);
    // 0.85 and a change from -0.15 to +0.1 over twelve quarters; 3 % left blank.
    expect(quarters[0]?.teachBack).toBeCloseTo(0.97 * 0.7, 6);
    expect(quarters[11]?.teachBack).toBeCloseTo(0.97 * 0.95, 6);
    expect(quarters.every(({ baselinePhotograph }) => Math.abs(baselinePhotograph - 0.9021) < 1e-6)).toBe(
      true,
    );
    expect(changes).toHaveLength(3);
  });

  it('is in the range the trade knows', () => {
    const week = (w: number) => truth.correction.bands.map(band => band.seenIncidence[w] ?? 0);
    // Medians as seen: about 6, 8 and 11 to 12 weeks.
    expect(week(7)[0]).toBeGreaterThan(0.5);
    expect(week(6)[1]).toBeLessThan(0.5);
    expect(week(10)[1]).toBeGreaterThan(0.5);
    expect(week(9)[2]).toBeLessThan(0.5);
    expect(week(15)[2]).toBeGreaterThan(0.5);
    const median = truth.durations.finished.medianDays ?? 0;
    expect(median).toBeGreaterThan(12 * 7);
    expect(median).toBeLessThan(16 * 7);
    for (const step of truth.relapse.filter(({ stepDowns }) => stepDowns > 200)) {
      expect(step.relapseSeen[2]).toBeGreaterThan(0.05);
      expect(step.relapseSeen[2]).toBeLessThan(0.2);
    }
    for (const { meanShare } of truth.adherence.phases) expect(Math.abs(meanShare - 0.86)).toBeLessThan(0.04);
  });

  it('holds nothing that JSON cannot', () => {
    const text = jsonText(truth);
    expect(JSON.parse(text)).toEqual(structuredClone(truth));
    expect(text).not.toContain('null');
  });
});

describe('the rooms that analyse', () => {
  it('know nothing of the generator or its truth', () => {
    const source = fileURLToPath(new URL('../../src/', import.meta.url));
    const files = ['records', 'cohort', 'statistics', 'analyses', 'plan'].flatMap(room =>
      readdirSync(join(source, room), { recursive: true, encoding: 'utf8' })
        .filter(name => name.endsWith('.ts'))
        .map(name => join(source, room, name)),
    );
    expect(files.length).toBeGreaterThan(20);
    const guilty = files.filter(file => /synthetic\/|truth\.json/.test(readFileSync(file, 'utf8')));
    expect(guilty).toEqual([]);
  });
});
