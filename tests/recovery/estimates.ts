import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  adherence,
  analyseAudit,
  type Finding,
  phaseOccupancy,
  relapseAfterStepDown,
  severityAndDuration,
  skinSafety,
  timeToCorrection,
} from '../../src/analyses/index.ts';
import { buildCohort } from '../../src/cohort/build-cohort.ts';
import { type Plan, planSchema } from '../../src/plan/plan.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { writeExport } from '../../src/synthetic/files/write-export.ts';
import type { Scenario } from '../../src/synthetic/index.ts';
import { type AuditReading, auditReadings } from './audit-readings.ts';

/** What one export says of one estimand; a test gives its p-value. */
export interface Estimate {
  readonly estimate?: number;
  readonly lower?: number;
  readonly upper?: number;
  readonly pValue?: number;
}

/** The estimates of one export by finding and key, such as `time-to-correction median.severe`. */
export type ExportEstimates = Readonly<Record<string, Estimate>>;

/** All that the study keeps of one export. */
export interface ExportAnswers {
  readonly estimates: ExportEstimates;
  readonly audit: readonly AuditReading[];
}

const ANALYSES = {
  timeToCorrection,
  relapseAfterStepDown,
  severityAndDuration,
  phaseOccupancy,
  adherence,
  skinSafety,
};

/** The default plan; only resampling that is not under study is cut short. */
export function studyPlan(resamples?: number): Plan {
  return planSchema.parse({
    adherence: { resamples: 100 },
    ...(resamples === undefined ? {} : { correction: { resamples } }),
  });
}

/**
 * One seeded export by the path of a clinic: files written, read back and checked, cohort built, questions answered.
 * An analysis that throws stands as `failed NAME` with no estimate.
 *
 * @param wanted the estimates to keep
 */
export async function exportAnswers(
  scenario: Scenario,
  seed: number,
  plan: Plan,
  wanted: ReadonlySet<string>,
): Promise<ExportAnswers> {
  const parent = mkdtempSync(join(tmpdir(), 'recovery-'));
  try {
    const folder = join(parent, 'export');
    writeExport(scenario, folder, { feet: scenario.cohort.feet, seed, replace: false });
    const cohort = buildCohort(await readExport(folder, { plan }), plan);
    const kept: Record<string, Estimate> = {};
    for (const [name, analysis] of Object.entries(ANALYSES)) {
      try {
        keep(analysis(cohort, plan).finding, wanted, kept);
      } catch {
        kept[`failed ${name}`] = {};
      }
    }
    let audit: readonly AuditReading[] = [];
    try {
      const findings = analyseAudit(cohort, plan).map(({ finding }) => finding);
      for (const finding of findings) keep(finding, wanted, kept);
      audit = auditReadings(findings, scenario);
    } catch {
      kept['failed audit'] = {};
    }
    return { estimates: kept, audit };
  } finally {
    rmSync(parent, { recursive: true, force: true });
  }
}

function keep(finding: Finding, wanted: ReadonlySet<string>, kept: Record<string, Estimate>): void {
  for (const { key, estimate, lower, upper } of [...finding.measures, ...(finding.effects ?? [])]) {
    const name = `${finding.key} ${key}`;
    if (!wanted.has(name) || estimate === undefined) continue;
    kept[name] = {
      estimate,
      ...(lower === undefined ? {} : { lower }),
      ...(upper === undefined ? {} : { upper }),
    };
  }
  for (const { key, pValue } of finding.tests) {
    const name = `${finding.key} ${key}`;
    if (wanted.has(name) && pValue !== undefined) kept[name] = { pValue };
  }
}
