import { type Analysis, analyseExport } from '../analyses/index.ts';
import { buildCohort, type Cohort } from '../cohort/index.ts';
import type { Plan } from '../plan/plan.ts';
import { readExport } from '../records/files/read-folder.ts';
import type { ExportRecords } from '../records/records.ts';
import { type FindingsInput, provenanceOf } from '../reports/index.ts';
import { counted } from './columns.ts';
import { type CommandContext, UserError } from './command.ts';
import { planFrom } from './plan-option.ts';
import { progress } from './progress.ts';
import { software } from './software.ts';

/**
 * From an export folder to the cohort: read, check, apply the definitions.
 *
 * @param planFile analysis plan in YAML; the built-in plan if undefined
 */
export async function cohortFrom(
  folder: string,
  planFile: string | undefined,
  context: CommandContext,
): Promise<{ readonly records: ExportRecords; readonly cohort: Cohort; readonly plan: Plan }> {
  const shown = progress(context);
  try {
    const plan = await planFrom(planFile);
    shown.say(`Reading ${folder}`);
    const records = await readExport(folder, {
      plan,
      onProgress: (file, rows) => shown.say(`Reading ${file}: ${counted(rows, 'row')}`),
    });
    shown.say('Applying the definitions');
    return { records, cohort: cohortOf(records, plan), plan };
  } finally {
    shown.stop();
  }
}

/**
 * From an export folder to the findings of a report: the cohort, and the answers to the questions.
 *
 * @param planFile analysis plan in YAML; the built-in plan if undefined
 * @param analyse the questions of the report; those of the cohort report if not given
 */
export async function outcomesOf(
  folder: string,
  planFile: string | undefined,
  context: CommandContext,
  analyse: (records: ExportRecords, plan: Plan, cohort: Cohort) => readonly Analysis[] = analyseExport,
): Promise<FindingsInput> {
  const { records, cohort, plan } = await cohortFrom(folder, planFile, context);
  const shown = progress(context);
  try {
    shown.say('Answering the questions');
    const findings = analyse(records, plan, cohort).map(({ finding }) => finding);
    return { findings, flow: cohort.flow, provenance: provenanceOf(records, plan, software()), plan };
  } finally {
    shown.stop();
  }
}

/** A plan that cannot be applied is the user's to mend. */
export function cohortOf(records: ExportRecords, plan: Plan): Cohort {
  try {
    return buildCohort(records, plan);
  } catch (error) {
    throw error instanceof RangeError && error.message.startsWith('plan:')
      ? new UserError(error.message, { cause: error })
      : error;
  }
}
