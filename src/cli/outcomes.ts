import { analyseExport } from '../analyses/index.ts';
import { buildCohort, type Cohort } from '../cohort/index.ts';
import type { Plan } from '../plan/plan.ts';
import type { ExportRecords } from '../records/records.ts';
import type { FindingsInput } from '../reports/index.ts';
import { type CommandContext, UserError } from './command.ts';
import { progress } from './progress.ts';
import { type ReadingOptions, readAsAsked } from './reading-options.ts';
import { answersOf, type Questions } from './report-kinds.ts';

/**
 * From an export folder to the cohort: read, check, apply the definitions.
 *
 * @param options plan, mapping and corrected rows
 */
export async function cohortFrom(
  folder: string,
  options: ReadingOptions,
  context: CommandContext,
): Promise<{ readonly records: ExportRecords; readonly cohort: Cohort; readonly plan: Plan }> {
  const shown = progress(context);
  try {
    const { records, plan } = await readAsAsked(folder, options, shown);
    shown.say('Applying the definitions');
    return { records, cohort: cohortOf(records, plan), plan };
  } finally {
    shown.stop();
  }
}

/**
 * From an export folder to the findings of a report: the cohort, and the answers to the questions.
 *
 * @param options plan, mapping and corrected rows
 * @param questions those of the report; of the cohort report if not given
 */
export async function outcomesOf(
  folder: string,
  options: ReadingOptions,
  context: CommandContext,
  questions: Questions = analyseExport,
): Promise<FindingsInput> {
  const read = await cohortFrom(folder, options, context);
  const shown = progress(context);
  try {
    shown.say('Answering the questions');
    return answersOf(read, questions);
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
