import { join } from 'node:path';
import { type Analysis, analyseAudit } from '../../analyses/index.ts';
import type { Cohort } from '../../cohort/index.ts';
import type { Plan } from '../../plan/plan.ts';
import { auditReport } from '../../reports/index.ts';
import { PublishError, publishReport } from '../../reports/publish/index.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { UserError } from '../command.ts';
import { outcomesOf } from '../outcomes.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';
import { outcomesSummary } from '../outcomes-summary.ts';

interface AuditOptions extends ReadingOptions {
  readonly out: string;
  readonly quarter: string;
  readonly replace?: true;
  readonly pdf?: true;
}

const EXAMPLES = `
The quarter is previous, the last one that was over at the data cut-off, or a name such as 2026-Q3. In a year that does
not start in January (audit.firstMonthOfYear in the plan) the names are such as "2026-27 Q1".

Exit code: 0 published, 2 nothing published.

Examples:
  The last full quarter, as from a timetable:
    $ forefoot report audit clinic-export --out audit-report --replace
  A quarter by name:
    $ forefoot report audit clinic-export --out audit-2026-Q3 --quarter 2026-Q3
`;

/** Adds `audit` to the command `report`. */
export const addAuditReport: AddCommand = (report, context) => {
  const audit = report
    .command('audit')
    .summary('standards, charts over the quarters, sites, overdue checkups')
    .description('Publishes the quarterly audit of the export in the folder EXPORT.')
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .requiredOption('--out <folder>', 'new or empty folder for the report')
    .option('--quarter <name>', 'quarter such as 2026-Q3, or previous', 'previous');
  withReadingOptions(audit)
    .option('--pdf', 'publish the report as a tagged PDF too')
    .option('--replace', 'put it in the place of an earlier report')
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: AuditOptions) => publishAudit(folder, options, context));
};

async function publishAudit(folder: string, options: AuditOptions, context: CommandContext): Promise<void> {
  const input = await outcomesOf(folder, options, context, (_records, plan, cohort) =>
    auditOf(cohort, plan, options.quarter),
  );
  try {
    const published = await publishReport(options.out, auditReport(input), input, {
      replace: options.replace === true,
      pdf: options.pdf === true,
    });
    context.out(`Audit report: ${join(published, 'index.html')}\n`);
    context.out(
      outcomesSummary(input)
        .map(line => `${line}\n`)
        .join(''),
    );
  } catch (error) {
    throw error instanceof PublishError ? new UserError(error.message, { cause: error }) : error;
  }
}

/** A quarter that cannot be read is the user's to mend. */
function auditOf(cohort: Cohort, plan: Plan, quarter: string): readonly Analysis[] {
  try {
    return analyseAudit(cohort, plan, quarter);
  } catch (error) {
    throw error instanceof RangeError && error.message.startsWith('quarter')
      ? new UserError(`--quarter: ${error.message}`, { cause: error })
      : error;
  }
}
