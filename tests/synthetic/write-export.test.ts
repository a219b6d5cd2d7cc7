import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { readExport } from '../../src/records/files/read-folder.ts';
import { writeSampleData } from '../../src/synthetic/files/sample-data.ts';
import { FolderTaken, writeExport } from '../../src/synthetic/files/write-export.ts';
import { namedScenario } from '../../src/synthetic/scenarios/index.ts';

const root = mkdtempSync(join(tmpdir(), 'forefoot-write-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const ordinary = namedScenario('ordinary-clinic');
const small = { ...ordinary, truth: { ...ordinary.truth, infants: 20 } };
const options = { feet: 12, seed: 7, replace: false };

describe('writing an export', () => {
  it('writes the five tables, their description and the truth, and nothing else', async () => {
    const folder = join(root, 'deep', 'first');
    const written = writeExport(small, folder, options);
    expect(readdirSync(folder).sort()).toEqual([
      'assessments.csv',
      'datapackage.json',
      'episodes.csv',
      'events.csv',
      'export.yaml',
      'phases.csv',
      'scenario.yaml',
      'truth.json',
      'wear.csv',
    ]);
    expect(readdirSync(join(root, 'deep'))).toEqual(['first']);
    const records = await readExport(folder);
    expect(records.problems).toEqual([]);
    for (const table of ['episodes', 'assessments', 'phases', 'wear', 'events'] as const) {
      expect(records.counts[table].read).toBe(written.rows[table]);
    }
  });

  it('refuses a folder that holds anything, unless told to replace it', () => {
    const folder = join(root, 'taken');
    mkdirSync(folder);
    writeExport(small, folder, options);
    const before = readFileSync(join(folder, 'episodes.csv'), 'utf8');
    expect(() => writeExport(small, folder, { ...options, seed: 8 })).toThrow(FolderTaken);
    expect(readFileSync(join(folder, 'episodes.csv'), 'utf8')).toBe(before);
    writeFileSync(join(folder, 'note.txt'), 'left over');
    writeExport(small, folder, { ...options, seed: 8, replace: true });
    expect(readFileSync(join(folder, 'episodes.csv'), 'utf8')).not.toBe(before);
    expect(readdirSync(folder)).not.toContain('note.txt');
  });

  it('leaves nothing behind when it fails', () => {
    const flawed = { ...small, flaws: { eachKind: 50 } };
    expect(() => writeExport(flawed, join(root, 'failed', 'x'), options)).toThrow('too few rows');
    expect(readdirSync(join(root, 'failed'))).toEqual([]);
    expect(() => writeExport(flawed, join(root, 'failed', 'x'), { ...options, feet: 20_001 })).toThrow(
      'flaws can be planted in at most 20000 feet, not 20001',
    );
  });
});

describe('the committed sample', () => {
  const committed = fileURLToPath(new URL('../../synthetic-data/', import.meta.url));

  it('comes out again byte for byte', () => {
    const again = join(root, 'sample');
    const paths = writeSampleData(again);
    expect(paths.length).toBe(18);
    for (const path of paths) {
      expect(readFileSync(join(again, path)).equals(readFileSync(join(committed, path))), path).toBe(true);
    }
    const there = readdirSync(committed, { recursive: true, encoding: 'utf8' }).filter(name =>
      /\.\w+$/.test(name),
    );
    expect(there.filter(name => !paths.includes(name))).toEqual(['README.md']);
  });

  it('is clean, and its twin has every planted problem found', async () => {
    expect((await readExport(committed)).problems).toEqual([]);
    const folder = join(committed, 'with-problems');
    const { problems } = await readExport(folder);
    const found = new Set(problems.map(p => [p.file, p.line, p.field ?? '', p.kind].join()));
    const planted = readFileSync(join(folder, 'planted-problems.csv'), 'utf8').trim().split('\n').slice(1);
    expect(planted.length).toBeGreaterThan(50);
    expect(planted.filter(line => !found.has(line))).toEqual([]);
  });
});
