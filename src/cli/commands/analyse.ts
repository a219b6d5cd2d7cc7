import { protectFindings } from '../../reports/index.ts';
import { PublishError, writeFindings } from '../../reports/publish/index.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { UserError } from '../command.ts';
import { outcomesOf } from '../outcomes.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';
import { outcomesSummary } from '../outcomes-summary.ts';

interface AnalyseOptions extends ReadingOptions {
  readonly out: string;
}

const EXAMPLES = `
The file holds the findings behind the cohort report as JSON: every number at full precision, with what it rests on. It
names no episode, infant or clinician, and hides small numbers as the plan asks. An earlier file of that name is replaced.

Exit code: 0 written, 2 not written. Refused rows are counted in the file and do not stop it.

Examples:
  The findings alone, to read with another program:
    $ forefoot analyse clinic-export --out findings.json
`;

export const addAnalyse: AddCommand = (program, context) => {
  const command = program
    .command('analyse')
    .summary('write the findings alone, as JSON')
    .description('Answers the questions of the cohort report from the export in the folder EXPORT.')
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .requiredOption('--out <file>', 'JSON file for the findings');
  withReadingOptions(command)
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: AnalyseOptions) => analyse(folder, options, context));
};

async function analyse(folder: string, options: AnalyseOptions, context: CommandContext): Promise<void> {
  const input = protectFindings(await outcomesOf(folder, options, context));
  const file = await writeFindings(options.out, input).catch((error: unknown) => {
    throw error instanceof PublishError ? new UserError(error.message, { cause: error }) : error;
  });
  context.out(`Findings: ${file}\n`);
  context.out(
    outcomesSummary(input)
      .map(line => `${line}\n`)
      .join(''),
  );
}
