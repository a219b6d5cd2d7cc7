import { describe, expect, it } from 'vitest';
import { readExportFromText } from '../../src/records/reading/read-text.ts';
import { infantsOf } from '../../src/synthetic/generate.ts';
import { namedScenario, SCENARIOS } from '../../src/synthetic/scenarios/index.ts';
import { allLines, exportTexts, objects } from './export-text.ts';

const ordinary = namedScenario('ordinary-clinic');
const names = SCENARIOS.map(s => s.name ?? '').filter(name => name !== 'sample-clinic-with-problems');

describe('an invented export', () => {
  it('is the same for the same seed and another for another', () => {
    const first = exportTexts(ordinary, allLines(ordinary, 40, 7));
    expect(exportTexts(ordinary, allLines(ordinary, 40, 7))).toEqual(first);
    const other = exportTexts(ordinary, allLines(ordinary, 40, 8));
    expect(other.episodes).not.toBe(first.episodes);
    expect(other.wear).not.toBe(first.wear);
  });

  it.each(names)('of %s passes every check, but for visits that a clinician would look at twice', name => {
    const scenario = namedScenario(name);
    const feet = Math.min(scenario.cohort.feet, 150);
    const records = readExportFromText(exportTexts(scenario, allLines(scenario, feet, 5)));
    const odd = ['correction-before-first-checkup', 'checkup-interval'];
    expect(records.problems.filter(({ kind }) => !odd.includes(kind))).toEqual([]);
    expect(records.counts.episodes.accepted).toBe(feet);
    expect(records.counts.assessments.accepted).toBeGreaterThan(3 * feet);
    expect(records.service).toBe(scenario.service);
    expect(records.cutOffGiven).toBe(true);
  });

  it('has as many feet as asked for, the last infant losing a foot if need be', () => {
    for (const feet of [1, 2, 3, 12, 77]) {
      const infants = [...infantsOf(ordinary, feet, 4)];
      expect(infants.reduce((sum, { feet: own }) => sum + own.length, 0)).toBe(feet);
    }
    expect(() => allLines(ordinary, 0, 1)).toThrow('feet must be a whole number from 1, not 0');
  });

  it('keeps missing values apart from everything else: their rate leaves the rest as it was', () => {
    const more = { ...ordinary, recording: { ...ordinary.recording, flexibilityMissing: 0.5 } };
    const [a, b] = [allLines(ordinary, 60, 2), allLines(more, 60, 2)];
    expect(b.wear).toEqual(a.wear);
    expect(b.phases).toEqual(a.phases);
    const blank = (lines: typeof a) =>
      objects(lines, 'assessments').filter(row => row['flexibility'] === '').length;
    expect(blank(b) / b.assessments.length).toBeGreaterThan(0.4);
    expect(blank(a) / a.assessments.length).toBeLessThan(0.06);
  });

  it('stops at the cut-off: open episodes have no end, their last spell neither', () => {
    const lines = allLines(ordinary, 240, 7);
    const open = objects(lines, 'episodes').filter(row => row['end_date'] === '');
    expect(open.length).toBeGreaterThan(5);
    const phases = objects(lines, 'phases');
    for (const episode of open) {
      const own = phases.filter(row => row['episode_id'] === episode['episode_id']);
      expect(own.at(-1)?.['end_date']).toBe('');
      expect(own.slice(0, -1).every(row => row['end_date'] !== '')).toBe(true);
    }
  });

  it('has visits on working days, some with a second assessor on the same day', () => {
    const rows = objects(allLines(ordinary, 240, 7), 'assessments');
    const seen = new Map<string, number>();
    for (const row of rows) seen.set(`${row['episode_id']} ${row['date']}`, 0);
    expect(rows.length - seen.size).toBeGreaterThan(rows.length * 0.04);
    expect(rows.length - seen.size).toBeLessThan(rows.length * 0.12);
    const weekend = rows.filter(
      row => row['kind'] === 'checkup' && [0, 6].includes(new Date(`${row['date']}T12:00:00Z`).getUTCDay()),
    );
    expect(weekend).toEqual([]);
  });
});
