import { durationReport } from '../../reports/index.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { outcomesOf } from '../outcomes.ts';
import { publishProtected, quietly } from '../publish-outcomes.ts';
import { durationQuestions } from '../report-kinds.ts';
import { type ReportOptions, withReportOptions } from '../report-options.ts';
import { taughtBy } from '../truth-option.ts';

const EXAMPLES = `
Exit code: 0 published, 2 nothing published.

Examples:
  Does baseline severity go with the total duration of therapy?
    $ forefoot report duration clinic-export --out reports
`;

/** Adds `duration` to the command `report`. */
export const addDurationReport: AddCommand = (report, context) => {
  const duration = report
    .command('duration')
    .summary('severity at baseline and total duration, with model checks')
    .description('Publishes the study of severity and total duration of the export in the folder EXPORT.');
  withReportOptions(duration)
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: ReportOptions) => publishDuration(folder, options, context));
};

async function publishDuration(
  folder: string,
  options: ReportOptions,
  context: CommandContext,
): Promise<void> {
  const input = await outcomesOf(folder, options, quietly(options, context), durationQuestions);
  const kind = { kind: 'duration', title: 'Severity and total duration' };
  const taught = taughtBy(options.truth, folder, kind, durationReport);
  await publishProtected(taught.kind, input, taught.report, options, context);
}
