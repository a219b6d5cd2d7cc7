import { createKey } from '../../records/files/key-file.ts';
import { pseudonymise, requireApart } from '../../records/files/pseudonymise.ts';
import { alignedColumns, grouped } from '../columns.ts';
import type { AddCommand, CommandContext } from '../command.ts';

interface PseudonymiseOptions {
  readonly out: string;
  readonly keyFile: string;
  readonly newKey?: true;
}

const EXAMPLES = `
The codes of episodes, infants, sites and clinicians are replaced by keyed hashes (HMAC-SHA-256). Birth dates
become ages, columns that the dictionary does not know are left out, and values that it does not allow are left
blank. Whoever has the key can tell which code became which: keep it where the export never goes.

Exit code: 0 written, 2 not written: the export, the key or a folder cannot be used.

Examples:
  The first time, with a new key:
    $ forefoot pseudonymise clinic-export --out for-research --key-file /safe/place/forefoot.key --new-key
  Later, so that the same foot has the same code again:
    $ forefoot pseudonymise next-export --out for-research-2 --key-file /safe/place/forefoot.key
`;

export const addPseudonymise: AddCommand = (program, context) => {
  program
    .command('pseudonymise')
    .summary('copy an export with codes that only a key can tell')
    .description('Writes a copy of the export in the folder EXPORT that can be given away for research.')
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .requiredOption('--out <folder>', 'new or empty folder for the copy')
    .requiredOption('--key-file <file>', 'file with the key, outside both folders')
    .option('--new-key', 'make the key file')
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: PseudonymiseOptions) => run(folder, options, context));
};

async function run(
  folder: string,
  { out, keyFile, newKey }: PseudonymiseOptions,
  context: CommandContext,
): Promise<void> {
  await requireApart(folder, out, keyFile);
  if (newKey === true) await createKey(keyFile);
  const files = await pseudonymise(folder, out, keyFile);
  const rows = files.map(({ file, rows, blanked, dropped }) => [
    file,
    ...[rows, blanked, dropped].map(grouped),
  ]);
  context.out(`${alignedColumns([['file', 'rows', 'values left blank', 'columns left out'], ...rows])}\n`);
}
