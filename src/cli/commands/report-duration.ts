import { durationReport } from '../../reports/index.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { outcomesOf } from '../outcomes.ts';
import { publishProtected, quietly } from '../publish-outcomes.ts';
import { durationQuestions } from '../report-kinds.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';
import { TRUTH_OPTION, taughtBy } from '../truth-option.ts';

interface DurationOptions extends ReadingOptions {
  readonly out: string;
  readonly replace?: true;
  readonly pdf?: true;
  readonly truth?: string;
  readonly quiet?: true;
}

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
    .description('Publishes the study of severity and total duration of the export in the folder EXPORT.')
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .requiredOption('--out <folder>', 'folder of reports, made if it is not there');
  withReadingOptions(duration)
    .option('--pdf', 'publish the report as a tagged PDF too')
    .option('--replace', 'publish a new version where the report differs from the one that stands there')
    .option('--quiet', 'say nothing but the line that tells where the report is')
    .option(...TRUTH_OPTION)
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: DurationOptions) => publishDuration(folder, options, context));
};

async function publishDuration(
  folder: string,
  options: DurationOptions,
  context: CommandContext,
): Promise<void> {
  const input = await outcomesOf(folder, options, quietly(options, context), durationQuestions);
  const kind = { kind: 'duration', title: 'Severity and total duration' };
  const taught = taughtBy(options.truth, folder, kind, durationReport);
  await publishProtected(taught.kind, input, taught.report, options, context);
}
