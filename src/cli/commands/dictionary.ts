import { Option } from 'commander';
import { dataPackage } from '../../records/dictionary/data-package.ts';
import { dictionaryText } from '../../records/dictionary/dictionary-text.ts';
import { templateWorkbook } from '../../records/dictionary/template-workbook.ts';
import { DICTIONARY } from '../../records/dictionary.ts';
import type { AddCommand } from '../command.ts';
import { UserError } from '../command.ts';
import { writeNew } from '../write-new.ts';

const EXAMPLES = `
Exit code: 0 printed or written, 2 not written.

Examples:
  Read which files and columns an export has:
    $ forefoot dictionary
  Give the layout to whoever writes the export, for their own checks:
    $ forefoot dictionary --format data-package > datapackage.json
  A workbook to fill in by hand, with the allowed words to choose from:
    $ forefoot dictionary --format workbook --out clinic.xlsx
`;

export const addDictionary: AddCommand = (program, context) => {
  program
    .command('dictionary')
    .summary('print the data dictionary of an export')
    .description(
      'Prints every file and field of an export: type, unit, what is allowed, when it is needed, and its meaning.',
    )
    .addOption(
      new Option(
        '--format <format>',
        'table: Markdown to read; data-package: Data Package 2.0 with Table Schemas; workbook: an empty XLSX workbook to fill in',
      )
        .choices(['table', 'data-package', 'workbook'])
        .default('table'),
    )
    .option('--out <file>', 'new file to write to, instead of printing (needed for a workbook)')
    .action(async (options: { readonly format: string; readonly out?: string }) => {
      if (options.format === 'workbook') {
        if (options.out === undefined) {
          throw new UserError('--out is missing; allowed: a new file for the workbook');
        }
        await writeNew(options.out, await templateWorkbook(DICTIONARY));
        context.out(`Workbook: ${options.out}\n`);
        return;
      }
      const text =
        options.format === 'table'
          ? dictionaryText(DICTIONARY)
          : `${JSON.stringify(dataPackage(DICTIONARY), undefined, 2)}\n`;
      if (options.out === undefined) context.out(text);
      else await writeNew(options.out, text);
    })
    .addHelpText('after', EXAMPLES);
};
