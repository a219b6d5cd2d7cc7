// Run by itself, prints the hashes that the committed ones are to equal, whatever the engine.
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeExport } from '../../src/synthetic/files/write-export.ts';
import { namedScenario } from '../../src/synthetic/index.ts';

/** The nine scenarios; each reaches arithmetic that another does not. */
const NAMES = [
  'ordinary-clinic',
  'no-effect-of-severity',
  'strong-effect',
  'informative-drop-out',
  'heavy-bilateral',
  'tiny-clinic',
  'national-registry',
  'failing-site',
  'skin-cluster',
] as const;
/** Files whose bytes come of random numbers and arithmetic; the others are the same words in every export. */
const FILES = ['episodes.csv', 'assessments.csv', 'phases.csv', 'wear.csv', 'events.csv', 'truth.json'];

/** SHA-256 of those files together, by scenario: 60 feet, seed 2026, the truth of 100 infants. */
export function exportHashes(): Readonly<Record<string, string>> {
  const room = mkdtempSync(join(tmpdir(), 'forefoot-hashes-'));
  try {
    return Object.fromEntries(
      NAMES.map(name => {
        const scenario = namedScenario(name);
        const folder = join(room, name);
        const small = { ...scenario, truth: { ...scenario.truth, infants: 100 } };
        writeExport(small, folder, { feet: 60, seed: 2026, replace: false });
        const hash = createHash('sha256');
        for (const file of FILES) hash.update(readFileSync(join(folder, file)));
        return [name, hash.digest('hex')];
      }),
    );
  } finally {
    rmSync(room, { recursive: true, force: true });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.log(JSON.stringify(exportHashes(), null, 2));
}
