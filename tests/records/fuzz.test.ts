import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readMapping } from '../../src/records/mapping/read-mapping.ts';
import { MUTATORS } from './fuzz/mutators.ts';
import { outcomeOf } from './fuzz/outcome.ts';
import { runFuzz } from './fuzz/run-fuzz.ts';

describe('exports broken at random', () => {
  it('10,000 of them end with a list of problems or a clean result, every file as it was', {
    timeout: 600_000,
  }, async () => {
    const { outcomes, used, failures } = await runFuzz(10_000, 20_260_101);
    expect(failures.map(({ run, target, changes, message }) => ({ run, target, changes, message }))).toEqual(
      [],
    );
    expect(outcomes.clean + outcomes.problems + outcomes.unusable).toBe(10_000);
    for (const count of Object.values(outcomes)) expect(count).toBeGreaterThan(100);
    expect(Object.keys(used).sort()).toEqual(Object.keys(MUTATORS).sort());
  });

  it('are the same again for the same seed', async () => {
    const [first, second] = [await runFuzz(40, 7), await runFuzz(40, 7)];
    expect([first.outcomes, first.used]).toEqual([second.outcomes, second.used]);
  });
});

describe('exports that once broke us', () => {
  const root = fileURLToPath(new URL('../reference/broke-us/exports/', import.meta.url));

  it.each(readdirSync(root))('%s', async name => {
    const folder = join(root, name);
    const files = Object.fromEntries(
      readdirSync(folder).map(file => [file, readFileSync(join(folder, file))]),
    );
    const mapping = files['mapping.yaml'];
    const outcome = await outcomeOf(
      folder,
      files,
      mapping === undefined ? undefined : readMapping(mapping.toString('utf8')),
    );
    expect(['clean', 'problems']).toContain(outcome);
  });
});
