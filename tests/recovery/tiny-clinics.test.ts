import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { analyseDuration, analyseExport, type Finding } from '../../src/analyses/index.ts';
import { buildCohort } from '../../src/cohort/build-cohort.ts';
import { planSchema } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { writeExport } from '../../src/synthetic/files/write-export.ts';
import { unprintable } from '../analyses/looking.ts';
import { studiedScenario } from './scenarios.ts';

const plan = planSchema.parse({ adherence: { resamples: 100 }, correction: { resamples: 20 } });
const scenario = studiedScenario('tiny-clinic');
let room = '';

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), 'tiny-clinic-'));
});
afterAll(async () => {
  await rm(room, { recursive: true, force: true });
});

async function findingsOf(seed: number): Promise<readonly Finding[]> {
  const folder = await mkdtemp(join(room, 'export-'));
  writeExport(scenario, folder, { feet: scenario.cohort.feet, seed, replace: false });
  const records = await readExport(folder, { plan });
  const cohort = buildCohort(records, plan);
  return [...analyseExport(records, plan, cohort), ...analyseDuration(cohort, plan)].map(
    ({ finding }) => finding,
  );
}

/** Exports of twelve feet in which nothing sets some feature apart while a correction or a lapse is seen. */
const SEEDS = {
  'both feet treated': 26260160,
  sex: 26260124,
  'a band': 26260206,
  'any band': 26260273,
  crease: 26260306,
  age: 26260458,
  'any band, of lapses': 26260146,
};

describe('a clinic of twelve feet', () => {
  it.each(Object.entries(SEEDS))(
    'has every question answered where it has nothing to say on %s',
    async (_, seed) => {
      const findings = await findingsOf(seed);
      expect(unprintable(findings)).toEqual([]);
      const nameless = findings.flatMap(finding =>
        [...finding.measures, ...(finding.effects ?? [])].filter(
          ({ estimate, state }) => (estimate === undefined) === (state === undefined),
        ),
      );
      expect(nameless).toEqual([]);
    },
  );

  it('says why the trend cannot be tested', async () => {
    const correction = (await findingsOf(SEEDS['any band'])).find(({ key }) => key === 'time-to-correction');
    const states = correction?.tests.map(({ state }) => state);
    expect(states).toContain('no correction while two bands were followed');
  });
});
