import { join } from 'node:path';
import { analyseDuration, baseline } from '../../analyses/index.ts';
import { durationReport } from '../../reports/index.ts';
import { PublishError, publishReport } from '../../reports/publish/index.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { UserError } from '../command.ts';
import { outcomesOf } from '../outcomes.ts';
import { outcomesSummary } from '../outcomes-summary.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';

interface DurationOptions extends ReadingOptions {
  readonly out: string;
  readonly replace?: true;
  readonly pdf?: true;
}

const EXAMPLES = `
Exit code: 0 published, 2 nothing published.

Examples:
  Does baseline severity go with the total duration of therapy?
    $ forefoot report duration clinic-export --out duration-study
`;

/** Adds `duration` to the command `report`. */
export const addDurationReport: AddCommand = (report, context) => {
  const duration = report
    .command('duration')
    .summary('severity at baseline and total duration, with model checks')
    .description('Publishes the study of severity and total duration of the export in the folder EXPORT.')
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .requiredOption('--out <folder>', 'new or empty folder for the report');
  withReadingOptions(duration)
    .option('--pdf', 'publish the report as a tagged PDF too')
    .option('--replace', 'put it in the place of an earlier report')
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: DurationOptions) => publishDuration(folder, options, context));
};

async function publishDuration(
  folder: string,
  options: DurationOptions,
  context: CommandContext,
): Promise<void> {
  const input = await outcomesOf(folder, options, context, (_records, plan, cohort) => [
    baseline(cohort, plan),
    ...analyseDuration(cohort, plan),
  ]);
  try {
    const published = await publishReport(options.out, durationReport(input), input, {
      replace: options.replace === true,
      pdf: options.pdf === true,
    });
    context.out(`Duration study: ${join(published, 'index.html')}\n`);
    context.out(
      outcomesSummary(input)
        .map(line => `${line}\n`)
        .join(''),
    );
  } catch (error) {
    throw error instanceof PublishError ? new UserError(error.message, { cause: error }) : error;
  }
}
