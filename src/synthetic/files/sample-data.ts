import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { namedScenario } from '../scenarios/index.ts';
import { writeExport } from './write-export.ts';

/** The committed samples: scenario, folder under synthetic-data/ and seed. */
export const SAMPLES = [
  { scenario: 'sample-clinic', folder: '.', seed: 9 },
  { scenario: 'sample-clinic-with-problems', folder: 'with-problems', seed: 60 },
] as const;

/** Writes both samples under a folder, beside whatever else is there; gives the paths written, under that folder. */
export function writeSampleData(root: string): readonly string[] {
  const written: string[] = [];
  const working = mkdtempSync(join(tmpdir(), 'forefoot-sample-'));
  try {
    for (const { scenario: name, folder, seed } of SAMPLES) {
      const scenario = namedScenario(name);
      const made = join(working, name);
      writeExport(scenario, made, { feet: scenario.cohort.feet, seed, replace: false });
      mkdirSync(join(root, folder), { recursive: true });
      for (const file of readdirSync(made).sort()) {
        copyFileSync(join(made, file), join(root, folder, file));
        written.push(join(folder, file));
      }
    }
  } finally {
    rmSync(working, { recursive: true, force: true });
  }
  return written;
}
