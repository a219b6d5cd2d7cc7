import { Option } from 'commander';
import { dataPackage } from '../../records/dictionary/data-package.ts';
import { dictionaryText } from '../../records/dictionary/dictionary-text.ts';
import { DICTIONARY } from '../../records/dictionary.ts';
import type { AddCommand } from '../command.ts';

const EXAMPLES = `
Examples:
  Read which files and columns an export has:
    $ forefoot dictionary
  Give the layout to whoever writes the export, for their own checks:
    $ forefoot dictionary --format data-package > datapackage.json
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
        'table: Markdown to read; data-package: Data Package 2.0 with Table Schemas',
      )
        .choices(['table', 'data-package'])
        .default('table'),
    )
    .addHelpText('after', EXAMPLES)
    .action((options: { readonly format: string }) => {
      context.out(
        options.format === 'table'
          ? dictionaryText(DICTIONARY)
          : `${JSON.stringify(dataPackage(DICTIONARY), undefined, 2)}\n`,
      );
    });
};
