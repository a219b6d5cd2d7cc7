import { auditReport } from '../../reports/index.ts';
import { publishProtected, quietly } from '../publish-outcomes.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { outcomesOf } from '../outcomes.ts';
import { auditQuestions } from '../report-kinds.ts';
import { type ReportOptions, withReportOptions } from '../report-options.ts';
import { taughtBy } from '../truth-option.ts';

interface AuditOptions extends ReportOptions {
  readonly quarter: string;
}

const EXAMPLES = `
The quarter is previous, the last one that was over at the data cut-off, or a name such as 2026-Q3. In a year that does
not start in January (audit.firstMonthOfYear in the plan) the names are such as "2026-27 Q1".

FOLDER collects reports; this one stands in a sub-folder named by its quarter, such as audit-2026-Q3. How versions, the
list and the ledger are kept is told under forefoot report cohort --help.
Exit code: 0 published, or the same report stands there; 2 nothing published.

Examples:
  The last full quarter, as from a timetable:
    $ forefoot report audit clinic-export --out reports --replace --quiet
  A quarter by name:
    $ forefoot report audit clinic-export --out reports --quarter 2026-Q3
`;

/** Adds `audit` to the command `report`. */
export const addAuditReport: AddCommand = (report, context) => {
  const audit = report
    .command('audit')
    .summary('standards, charts over the quarters, sites, overdue checkups')
    .description('Publishes the quarterly audit of the export in the folder EXPORT.')
    .option('--quarter <name>', 'quarter such as 2026-Q3, or previous', 'previous');
  withReportOptions(audit)
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: AuditOptions) => publishAudit(folder, options, context));
};

async function publishAudit(folder: string, options: AuditOptions, context: CommandContext): Promise<void> {
  const questions = auditQuestions(options.quarter);
  const input = await outcomesOf(folder, options, quietly(options, context), questions);
  const period = input.findings.find(({ key }) => key === 'audit')?.period?.name.replaceAll(' ', '-');
  const kind = { kind: 'audit', title: 'Quarterly audit', ...(period === undefined ? {} : { period }) };
  const taught = taughtBy(options.truth, folder, kind, auditReport);
  await publishProtected(taught.kind, input, taught.report, options, context);
}
