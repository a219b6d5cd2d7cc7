import { stat } from 'node:fs/promises';
import { verifyFolder } from '../../reports/publish/index.ts';
import { counted } from '../columns.ts';
import { type AddCommand, type CommandContext, EXIT, UserError } from '../command.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';
import { recompute, recomputedText } from '../recompute.ts';

interface VerifyOptions extends ReadingOptions {
  readonly export?: string;
}

const EXAMPLES = `
Exit code: 0 all as published, 1 something differs, 2 the folder or the export cannot be read.

Examples:
  Hold every published file against the ledger:
    $ forefoot verify reports
  Work out the numbers of the reports from the export again, each audit for its own quarter:
    $ forefoot verify reports --export clinic-export
  The same for reports that were made with a plan and a mapping of their own:
    $ forefoot verify reports --export clinic-export --plan plan.yaml --mapping mapping.yaml
`;

export const addVerify: AddCommand = (program, context) => {
  const command = program
    .command('verify')
    .summary('check that published reports are as they were published')
    .description(
      'Hashes every file of the reports in FOLDER again and holds it against ledger.json, whose entries are checked as well.',
    )
    .argument('<FOLDER>', 'folder of reports')
    .option('--export <folder>', 'work out the findings from this export again, and compare');
  withReadingOptions(command)
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: VerifyOptions) => verify(folder, options, context));
};

async function verify(folder: string, options: VerifyOptions, context: CommandContext): Promise<void> {
  if (!((await stat(folder).catch(() => undefined))?.isDirectory() ?? false)) {
    throw new UserError(`${folder} is not a folder; allowed: a folder of reports, with ledger.json in it`);
  }
  const { reports, files, faults } = await verifyFolder(folder);
  const differing = [...faults];
  if (options.export !== undefined) {
    const again = await recompute(folder, options.export, options, context);
    differing.push(...again.differences);
    context.log(`${recomputedText(again)}\n`);
  }
  for (const fault of differing) context.log(`${fault}\n`);
  const what = `${counted(reports, 'report')}, ${counted(files, 'file')}`;
  if (differing.length === 0) context.out(`${what}: all as published\n`);
  else {
    context.out(`${what}: ${counted(differing.length, 'difference')}\n`);
    context.setExitCode(EXIT.refused);
  }
}
