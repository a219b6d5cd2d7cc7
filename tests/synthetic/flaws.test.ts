import { describe, expect, it } from 'vitest';
import { readExportFromText } from '../../src/records/reading/read-text.ts';
import { flawKinds, plantFlaws } from '../../src/synthetic/flaws.ts';
import { cutOffDay } from '../../src/synthetic/generate.ts';
import { namedScenario } from '../../src/synthetic/scenarios/index.ts';
import { stream } from '../../src/synthetic/streams.ts';
import { allLines, exportTexts } from './export-text.ts';

const scenario = namedScenario('sample-clinic-with-problems');

function planted(feet: number, eachKind: number, seed: number) {
  const lines = allLines(scenario, feet, seed);
  const flaws = plantFlaws(lines, eachKind, cutOffDay(scenario), stream(seed, 0, 'flaws'));
  return { lines, flaws };
}

describe('planted data-entry flaws', () => {
  it.each([
    [60, 1, 9],
    [60, 1, 60],
    [400, 4, 3],
  ])(
    'in %i feet, %i of a kind, seed %i: each is found under its file, line, field and kind',
    (feet, eachKind, seed) => {
      const { lines, flaws } = planted(feet, eachKind, seed);
      expect(flaws.length).toBe(flawKinds().length * eachKind);
      const { problems } = readExportFromText(exportTexts(scenario, lines));
      const found = new Set(problems.map(p => [p.file, p.line, p.field ?? '', p.kind].join()));
      expect(flaws.filter(flaw => !found.has([flaw.file, flaw.line, flaw.field, flaw.kind].join()))).toEqual(
        [],
      );
    },
  );

  it('bring nothing else with them but the rows of refused episodes and the hole where a spell was refused', () => {
    const { lines, flaws } = planted(60, 1, 60);
    const { problems } = readExportFromText(exportTexts(scenario, lines));
    const known = new Set(flaws.map(flaw => [flaw.file, flaw.line, flaw.kind].join()));
    const others = problems.filter(p => !known.has([p.file, p.line, p.kind].join()));
    const kinds = [...new Set(others.map(p => p.kind))].sort();
    expect(kinds).toEqual(['gap-between-phases', 'step-skips-a-phase', 'unknown-episode']);
    const holes = others.filter(p => p.kind !== 'unknown-episode');
    expect(holes.every(p => p.file === 'phases.csv' && p.severity === 'warning')).toBe(true);
  });

  it('are of every kind that a row can have', () => {
    const kinds = new Set(flawKinds().map(({ kind }) => kind));
    for (const kind of [
      'not-a-date',
      'not-an-allowed-word',
      'out-of-range',
      'not-a-number',
      'missing-value',
      'duplicate-key',
      'unknown-episode',
      'end-before-start',
      'before-birth',
      'overlapping-phases',
      'hours-not-in-plan',
      'after-cut-off',
      'age-disagrees-with-birth-date',
      'overlapping-episodes',
    ]) {
      expect(kinds).toContain(kind);
    }
    const overDay = flawKinds().filter(({ table, field }) => table === 'wear' && field === 'hours_worn');
    expect(overDay.map(({ kind }) => kind)).toContain('out-of-range');
  });

  it('are none when none are asked for, and refused when there is no room', () => {
    const lines = allLines(scenario, 20, 1);
    const before = structuredClone(lines);
    expect(plantFlaws(lines, 0, cutOffDay(scenario), stream(1, 0, 'flaws'))).toEqual([]);
    expect(lines).toEqual(before);
    expect(() => plantFlaws(lines, 3, cutOffDay(scenario), stream(1, 0, 'flaws'))).toThrow(
      /too few rows in \w+\.csv to plant ".+" \(.+\); take more feet/,
    );
  });
});
