import { InvalidArgumentError } from 'commander';
import { requireEmptyFolder, writeQuarantine } from '../../records/files/quarantine.ts';
import { UnusableExport } from '../../records/unusable-export.ts';
import { checkedJson, checkedText, refusedAnything, unusableJson } from '../checked.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { EXIT } from '../command.ts';
import { progress } from '../progress.ts';
import { type ReadingOptions, readAsAsked, withReadingOptions } from '../reading-options.ts';

interface CheckOptions extends ReadingOptions {
  readonly json?: true;
  readonly quarantine?: string;
  readonly show: number;
}

const EXAMPLES = `
Exit code: 0 nothing refused, 1 something refused, 2 the export cannot be used.

Examples:
  See what is wrong with an export, row by row:
    $ forefoot check clinic-export
  Set the refused rows aside to correct them; each keeps all its cells:
    $ forefoot check clinic-export --quarantine to-correct
  Read the rows that were set aside and are corrected now in the place of the others:
    $ forefoot check clinic-export --with to-correct
  Read files that do not have the layout of the dictionary:
    $ forefoot check clinic-export --mapping mapping.yaml
  Allow the wear phases of your own plan:
    $ forefoot check clinic-export --plan plan.yaml
  Hand the list to another program:
    $ forefoot check clinic-export --json > problems.json
`;

export const addCheck: AddCommand = (program, context) => {
  const command = program
    .command('check')
    .summary('read an export and list what is wrong with it')
    .description(
      'Reads the export in the folder EXPORT and names every problem by file, line, field, value and what is allowed. Rows that cannot be used are refused, all others go on; the export itself is never changed.',
    )
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv');
  withReadingOptions(command)
    .option('--quarantine <folder>', 'write the refused rows into this new or empty folder')
    .option('--show <number>', 'problems to print at most', wholeNumber, 50)
    .option('--json', 'print JSON instead of text')
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: CheckOptions) => check(folder, options, context));
};

async function check(folder: string, options: CheckOptions, context: CommandContext): Promise<void> {
  const shown = progress(context);
  try {
    if (options.quarantine !== undefined) await requireEmptyFolder(options.quarantine);
    const { records } = await readAsAsked(folder, options, shown);
    shown.stop();
    context.out(options.json === true ? checkedJson(records) : checkedText(records, options.show));
    if (refusedAnything(records)) context.setExitCode(EXIT.refused);
    if (options.quarantine !== undefined) {
      // The rows set aside are as the clinic wrote them: they belong with the export, not with what is published.
      const written = await writeQuarantine(folder, records, options.quarantine);
      const files = written.length === 0 ? 'nothing to set aside' : written.join(', ');
      context.log(`Quarantine ${options.quarantine}: ${files}\n`);
    }
  } catch (error) {
    if (error instanceof UnusableExport && options.json === true) context.out(unusableJson(error));
    throw error;
  } finally {
    shown.stop();
  }
}

function wholeNumber(text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError('Allowed: a whole number from 0.');
  return Number(text);
}
