import { cohortReport } from '../../reports/index.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { outcomesOf } from '../outcomes.ts';
import { publishProtected, quietly } from '../publish-outcomes.ts';
import { type ReportOptions, withReportOptions } from '../report-options.ts';
import { taughtBy } from '../truth-option.ts';

const EXAMPLES = `
FOLDER collects reports: each stands in a sub-folder named by kind and data cut-off, such as cohort-2026-04-07, with
index.html (opens from the disk, asks for nothing), findings.json, tables/ (CSV, and all of them as one workbook) and
figures/ (SVG, PNG, Vega-Lite); with --pdf also report.pdf, the same document. FOLDER/index.html lists all reports,
FOLDER/ledger.json holds the hashes of data, plan and files. A report is put in place whole at the end of the run, or
not at all. The same export, plan and version give the same bytes, and publishing them again changes nothing.
A report that differs from the one that stands there is published only with --replace: as a new version, the earlier
one kept in versions/ and the numbers that changed listed in changes.csv.
Small numbers are hidden as the plan asks (disclosure); nothing is published from which they could be worked out.

One line on standard output says where the report is; the rest goes to standard error.
Exit code: 0 published, or the same report stands there; 2 nothing published (also if another run is using FOLDER);
3 a fault of this program. Refused rows are counted in the report and do not stop it.

Examples:
  Publish the outcomes of a clinic:
    $ forefoot report cohort clinic-export --out reports
  By your own definitions, as a new version of the last report:
    $ forefoot report cohort clinic-export --plan plan.yaml --out reports --replace
`;

/** Adds `cohort` to the command `report`. */
export const addCohortReport: AddCommand = (report, context) => {
  const cohort = report
    .command('cohort')
    .summary('time to correction, relapse after step-downs, keeping to the hours')
    .description('Publishes the cohort outcomes of the export in the folder EXPORT.');
  withReportOptions(cohort)
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: ReportOptions) => publishCohort(folder, options, context));
};

async function publishCohort(folder: string, options: ReportOptions, context: CommandContext): Promise<void> {
  const found = await outcomesOf(folder, options, quietly(options, context));
  const taught = taughtBy(options.truth, folder, { kind: 'cohort', title: 'Cohort outcomes' }, cohortReport);
  await publishProtected(taught.kind, found, taught.report, options, context);
}
