// No analysis reads the truth of an export: what it finds is the same whether the true truth lies beside the tables,
// that of another world, something that cannot be read at all, or nothing; and likewise for the scenario.
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { analyseAudit, analyseDuration, analyseExport } from '../../src/analyses/index.ts';
import { buildCohort } from '../../src/cohort/build-cohort.ts';
import { planSchema } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { writeExport } from '../../src/synthetic/files/write-export.ts';
import { namedScenario } from '../../src/synthetic/index.ts';

const plan = planSchema.parse({ adherence: { resamples: 100 }, correction: { resamples: 20 } });
const room = mkdtempSync(join(tmpdir(), 'forefoot-unread-'));
const folder = join(room, 'export');
afterAll(() => rmSync(room, { recursive: true, force: true }));

async function findings(from: string): Promise<string> {
  const records = await readExport(from, { plan });
  const cohort = buildCohort(records, plan);
  return JSON.stringify([
    ...analyseExport(records, plan, cohort).map(({ finding }) => finding),
    ...analyseDuration(cohort, plan).map(({ finding }) => finding),
    ...analyseAudit(cohort, plan).map(({ finding }) => finding),
  ]);
}

let withTruth = '';
beforeAll(async () => {
  const scenario = namedScenario('ordinary-clinic');
  const small = { ...scenario, truth: { ...scenario.truth, infants: 50 } };
  writeExport(small, folder, { feet: 60, seed: 4, replace: false });
  withTruth = await findings(folder);
}, 60_000);

describe('the truth of an export', () => {
  it.each([
    ['of another world', (path: string) => writeFileSync(path, flipped(readFileSync(path, 'utf8')))],
    ['that is no text', (path: string) => writeFileSync(path, Uint8Array.of(0xff, 0xfe, 0, 1))],
    [
      'that cannot be opened as a file',
      (path: string) => {
        rmSync(path);
        mkdirSync(path);
      },
    ],
    ['that is not there', (path: string) => rmSync(path)],
  ])('%s leaves every finding as it is', async (name, change) => {
    const other = join(room, name.replaceAll(' ', '-'));
    cpSync(folder, other, { recursive: true });
    change(join(other, 'truth.json'));
    rmSync(join(other, 'scenario.yaml'));
    expect(await findings(other)).toBe(withTruth);
  });

  it('would be noticed: another seed gives other findings', async () => {
    const other = join(room, 'another-seed');
    const scenario = namedScenario('tiny-clinic');
    const small = { ...scenario, truth: { ...scenario.truth, infants: 0 } };
    writeExport(small, other, { feet: 12, seed: 5, replace: false });
    expect(await findings(other)).not.toBe(withTruth);
  });
});

/** Every share as its complement. */
function flipped(text: string): string {
  const turn = (value: unknown): unknown => {
    if (typeof value === 'number') return 1 - value;
    if (Array.isArray(value)) return value.map(turn);
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([key, held]) => [key, turn(held)]));
  };
  return JSON.stringify(turn(JSON.parse(text)));
}
