import { draftFolder } from '../../records/files/draft-folder.ts';
import { counted } from '../columns.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { EXIT, UserError } from '../command.ts';
import { writeNew } from '../write-new.ts';

const EXAMPLES = `
The draft names every column that it recognised, says under "notes" what it concluded, and under "unsettled" what it
could not: dates that fit two orders, words with no one meaning, columns that it did not find. Answer each question
where it says and take it off the list; until then "check" and "report" refuse the mapping.

Exit code: 0 nothing left to settle, 1 something left to settle, 2 not drafted.

Examples:
  Draft a mapping, settle it, use it:
    $ forefoot map clinic-export --out mapping.yaml
    $ forefoot check clinic-export --mapping mapping.yaml
`;

export const addMap: AddCommand = (program, context) => {
  program
    .command('map')
    .summary('draft a mapping from the files of a clinic to the dictionary')
    .description('Inspects the files in the folder EXPORT and drafts a mapping to the dictionary.')
    .argument('<EXPORT>', 'folder with CSV files, XLSX workbooks or FHIR resources (NDJSON)')
    .requiredOption('--out <file>', 'new file for the mapping')
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: { readonly out: string }) => draft(folder, options.out, context));
};

async function draft(folder: string, out: string, context: CommandContext): Promise<void> {
  const { text, unsettled, notes, files } = await draftFolder(folder);
  if (files.length === 0) {
    throw new UserError(
      `${folder} holds nothing that could be mapped; allowed: CSV files (.csv, .txt, .tsv), workbooks (.xlsx), FHIR resources (.ndjson)`,
    );
  }
  await writeNew(out, text);
  const lines = [
    `Mapping: ${out}`,
    ...notes.map(note => `note: ${note}`),
    ...unsettled.map(({ where, question }) => `unsettled: ${where}: ${question}`),
    unsettled.length === 0
      ? 'Nothing is left to settle.'
      : `${counted(unsettled.length, 'question')} to settle.`,
  ];
  context.out(`${lines.join('\n')}\n`);
  if (unsettled.length > 0) context.setExitCode(EXIT.refused);
}
