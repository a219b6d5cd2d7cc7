import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { canonicalJson, findingsDocument, type FindingsDocument } from '../../reports/index.ts';
import { changedNumbers, type Ledger, verifyFolder } from '../../reports/publish/index.ts';
import { counted } from '../columns.ts';
import { type AddCommand, type CommandContext, EXIT } from '../command.ts';
import { protectedFor, publicationOf } from '../publish-outcomes.ts';
import { outcomesOf } from '../outcomes.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';

interface VerifyOptions extends ReadingOptions {
  readonly export?: string;
}

const EXAMPLES = `
Exit code: 0 all as published, 1 something differs, 2 the folder or the export cannot be read.

Examples:
  Hold every published file against the ledger:
    $ forefoot verify reports
  Work out the numbers of the cohort reports from the export again:
    $ forefoot verify reports --export clinic-export
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
  const { reports, files, faults } = await verifyFolder(folder);
  const differing = [...faults];
  if (options.export !== undefined) {
    differing.push(...(await differingNumbers(folder, options.export, options, context)));
  }
  for (const fault of differing) context.log(`${fault}\n`);
  const what = `${counted(reports, 'report')}, ${counted(files, 'file')}`;
  if (differing.length === 0) context.out(`${what}: all as published\n`);
  else {
    context.out(`${what}: ${counted(differing.length, 'difference')}\n`);
    context.setExitCode(EXIT.refused);
  }
}

/** What an export gives otherwise than the cohort reports of the same data cut-off. */
async function differingNumbers(
  folder: string,
  exported: string,
  options: ReadingOptions,
  context: CommandContext,
): Promise<readonly string[]> {
  const truth = await outcomesOf(exported, options, context);
  const input = await protectedFor(folder, publicationOf({ kind: 'cohort', title: '' }, truth), truth);
  const ledger = JSON.parse(await readFile(join(folder, 'ledger.json'), 'utf8')) as Ledger;
  const now = JSON.parse(canonicalJson(findingsDocument(input))) as FindingsDocument;
  const reports = new Set(ledger.entries.filter(({ kind }) => kind === 'cohort').map(({ report }) => report));
  const lines: string[] = [];
  let compared = 0;
  for (const report of reports) {
    const text = await readFile(join(folder, report, 'findings.json'), 'utf8').catch(() => undefined);
    if (text === undefined) continue;
    const published = JSON.parse(text) as FindingsDocument;
    if (published.provenance.cutOff !== now.provenance.cutOff) continue;
    compared += 1;
    if (published.provenance.planSha256 !== now.provenance.planSha256) {
      lines.push(`${report}: was made with another plan (${published.provenance.planSha256.slice(0, 12)})`);
    }
    for (const file of published.provenance.files) {
      const own = now.provenance.files.find(other => other.file === file.file);
      if (own?.sha256 !== file.sha256)
        lines.push(`${report}: ${file.file} of the export is not the one it was made from`);
    }
    for (const { finding, key, before, after } of changedNumbers(published, now)) {
      lines.push(`${report}: ${finding} ${key} was published as ${before}; the export gives ${after}`);
    }
  }
  return compared === 0 ? [...lines, 'no cohort report has the data cut-off of the export'] : lines;
}
