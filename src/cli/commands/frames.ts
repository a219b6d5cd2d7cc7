import { cohortFrames } from '../../cohort/index.ts';
import { provenanceOf } from '../../reports/index.ts';
import { PublishError, publishFrames } from '../../reports/publish/index.ts';
import { counted } from '../columns.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { UserError } from '../command.ts';
import { cohortFrom } from '../outcomes.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';
import { software } from '../software.ts';

interface FramesOptions extends ReadingOptions {
  readonly out: string;
  readonly replace?: true;
}

const EXAMPLES = `
One frame each for feet, step-downs, visits, spells, wear days and skin events, as the definitions of the plan make them:
as Arrow and as Parquet, which R, Python and databases open with types and missing values in place, and as CSV. README.md
says what every column holds.

The rows carry the pseudonymous codes of the export. They are for work within the service, not for publishing.

Exit code: 0 written, 2 not written. Refused rows are left out and do not stop it.

Examples:
  Go on in another program where the definitions stop:
    $ forefoot frames clinic-export --out frames
`;

export const addFrames: AddCommand = (program, context) => {
  const command = program
    .command('frames')
    .summary('write the rows behind the findings, for other programs')
    .description('Applies the definitions to the export in the folder EXPORT and writes the analysis frames.')
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .requiredOption('--out <folder>', 'new or empty folder for the frames');
  withReadingOptions(command)
    .option('--replace', 'put them in the place of earlier frames')
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: FramesOptions) => writeFrames(folder, options, context));
};

async function writeFrames(folder: string, options: FramesOptions, context: CommandContext): Promise<void> {
  const { records, cohort, plan } = await cohortFrom(folder, options, context);
  const frames = cohortFrames(cohort);
  try {
    const written = await publishFrames(options.out, frames, provenanceOf(records, plan, software()), {
      replace: options.replace === true,
    });
    context.out(`Frames: ${written}\n`);
    context.out(`${counted(frames.feet.numRows(), 'foot', 'feet')}; the columns are in README.md\n`);
  } catch (error) {
    throw error instanceof PublishError ? new UserError(error.message, { cause: error }) : error;
  }
}
