// Invented clinics with a planted fault: the audit must find it.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { analyseAudit } from '../../../src/analyses/audit/index.ts';
import type { Finding } from '../../../src/analyses/finding.ts';
import { buildCohort } from '../../../src/cohort/index.ts';
import { defaultPlan } from '../../../src/plan/plan.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { namedScenario } from '../../../src/synthetic/index.ts';
import { writeExport } from '../../../src/synthetic/files/write-export.ts';

const plan = defaultPlan();
let room = '';

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-audit-'));
});

afterAll(async () => {
  await rm(room, { recursive: true, force: true });
});

async function auditOf(name: string, quarter: string): Promise<ReadonlyMap<string, Finding>> {
  const scenario = namedScenario(name);
  const folder = join(room, `${name}-${quarter}`);
  writeExport({ ...scenario, truth: { ...scenario.truth, infants: 0 } }, folder, {
    feet: scenario.cohort.feet,
    seed: 1,
    replace: true,
  });
  const cohort = buildCohort(await readExport(folder, { plan }), plan);
  return new Map(analyseAudit(cohort, plan, quarter).map(({ finding }) => [finding.key, finding]));
}

describe('a site that fails its standards', () => {
  it('lies below the outer limits on what was planted, and no other site does', async () => {
    const findings = await auditOf('failing-site', 'previous');
    const below = (findings.get('audit-comparison')?.funnels ?? []).flatMap(funnel =>
      funnel.units
        .filter(unit => unit.kind === 'site' && unit.beyond?.side === 'below')
        .map(unit => [unit.code, funnel.key]),
    );
    expect(below.map(([site]) => site).every(site => site === 'ombermoor')).toBe(true);
    for (const key of [
      'baseline-photograph',
      'baseline-findings',
      'teach-back',
      'first-checkup',
      'second-checkup',
    ]) {
      expect(below).toContainEqual(['ombermoor', key]);
    }
    expect(
      findings.get('audit')?.standards?.filter(({ verdict }) => verdict === 'not met').length,
    ).toBeGreaterThan(2);
  }, 60_000);
});

describe('a quarter with a cluster of skin events', () => {
  it('is beyond the limits of the rate chart, and the quarters round it are not', async () => {
    // The eighth quarter of a clinic that starts in January 2023.
    const charts = (await auditOf('skin-cluster', '2025-Q4')).get('audit-charts')?.quarterCharts ?? [];
    const skin = charts.find(({ key }) => key === 'skin-rate');
    expect(skin?.quarters).toHaveLength(12);
    const beyond = skin?.signals.filter(({ rule }) => rule === 'beyond 3 sigma');
    expect(beyond?.map(({ place, side }) => [skin?.quarters[place], side])).toEqual([['2024-Q4', 'above']]);
  }, 60_000);
});
