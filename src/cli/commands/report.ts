import { join } from 'node:path';
import { cohortReport } from '../../reports/index.ts';
import { PublishError, publishReport } from '../../reports/publish/index.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { UserError } from '../command.ts';
import { outcomesOf } from '../outcomes.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';
import { outcomesSummary } from '../outcomes-summary.ts';
import { besideTruth } from '../truth-option.ts';
import { addAuditReport } from './report-audit.ts';
import { addDurationReport } from './report-duration.ts';

interface ReportOptions extends ReadingOptions {
  readonly out: string;
  readonly replace?: true;
  readonly pdf?: true;
  readonly truth?: string;
}

const EXAMPLES = `
The folder holds index.html (opens from the disk, asks for nothing), findings.json, tables/ (CSV, and all of
them as one workbook) and figures/ (SVG, PNG, Vega-Lite); with --pdf also report.pdf, the same document. It is put in
place whole at the end of the run, or not at all. The same export, plan and version give the same bytes.

Exit code: 0 published, 2 nothing published. Refused rows are counted in the report and do not stop it.

Examples:
  Publish the outcomes of a clinic:
    $ forefoot report cohort clinic-export --out cohort-report
  By your own definitions, in the place of the last report:
    $ forefoot report cohort clinic-export --plan plan.yaml --out cohort-report --replace
`;

export const addReport: AddCommand = (program, context) => {
  const report = program
    .command('report')
    .summary('publish a report as a folder')
    .description('Publishes one report from an export.');
  addAuditReport(report, context);
  addDurationReport(report, context);
  const cohort = report
    .command('cohort')
    .summary('time to correction, relapse after step-downs, keeping to the hours')
    .description('Publishes the cohort outcomes of the export in the folder EXPORT.')
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .requiredOption('--out <folder>', 'new or empty folder for the report');
  withReadingOptions(cohort)
    .option('--pdf', 'publish the report as a tagged PDF too')
    .option('--replace', 'put it in the place of an earlier report')
    .option('--truth <file>', 'truth.json of a simulated export: print the truth beside the estimates')
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: ReportOptions) => publishCohort(folder, options, context));
};

async function publishCohort(folder: string, options: ReportOptions, context: CommandContext): Promise<void> {
  const input = await outcomesOf(folder, options, context);
  const report = cohortReport(input);
  const document =
    options.truth === undefined ? report : await besideTruth(report, input, folder, options.truth);
  try {
    const published = await publishReport(options.out, document, input, {
      replace: options.replace === true,
      pdf: options.pdf === true,
    });
    context.out(`Cohort report: ${join(published, 'index.html')}\n`);
    context.out(
      outcomesSummary(input)
        .map(line => `${line}\n`)
        .join(''),
    );
  } catch (error) {
    throw error instanceof PublishError ? new UserError(error.message, { cause: error }) : error;
  }
}
