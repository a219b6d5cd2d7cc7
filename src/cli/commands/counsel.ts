import { InvalidArgumentError, Option } from 'commander';
import { ageGroupOf, footLikeThis, type FootDescription } from '../../analyses/index.ts';
import { BANDS, type Band, type Flexibility } from '../../cohort/index.ts';
import { formatDate } from '../../wording/format.ts';
import type { AddCommand, CommandContext } from '../command.ts';
import { EXIT } from '../command.ts';
import { cohortOf } from '../outcomes.ts';
import { progress } from '../progress.ts';
import { type ReadingOptions, readAsAsked, withReadingOptions } from '../reading-options.ts';

interface CounselOptions extends ReadingOptions {
  readonly band: Band;
  readonly flexibility?: Flexibility;
  readonly crease?: 'yes' | 'no';
  readonly ageWeeks?: number;
}

const FLEXIBILITY = ['past straight', 'to straight', 'short of straight'];

const EXAMPLES = `
Exit code: 0 answered, 1 no answer on so few feet, 2 the export or the command line cannot be used.

Examples:
  What became of severe feet:
    $ forefoot counsel clinic-export --band severe
  Of those, stiff ones with a crease, fitted at about ten weeks:
    $ forefoot counsel clinic-export --band severe --flexibility "short of straight" --crease yes --age-weeks 10
`;

export const addCounsel: AddCommand = (program, context) => {
  const command = program
    .command('counsel')
    .summary('what became of feet like this one, for a conversation with parents')
    .description(
      'Says how many of the feet in the folder EXPORT that were like the one described were seen corrected by each week, and how long their therapy took.',
    )
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .addOption(
      new Option('--band <band>', 'severity band at first fitting').choices([...BANDS]).makeOptionMandatory(),
    )
    .addOption(new Option('--flexibility <words>', 'how far the forefoot goes by hand').choices(FLEXIBILITY))
    .addOption(new Option('--crease <answer>', 'medial crease').choices(['yes', 'no']))
    .option('--age-weeks <number>', 'age at first fitting; feet of its age group are taken', ageInWeeks);
  withReadingOptions(command)
    .addHelpText('after', EXAMPLES)
    .action((folder: string, options: CounselOptions) => counsel(folder, options, context));
};

async function counsel(folder: string, options: CounselOptions, context: CommandContext): Promise<void> {
  const shown = progress(context);
  try {
    const { records, plan } = await readAsAsked(folder, options, shown);
    const { band, flexibility, crease, ageWeeks } = options;
    const description: FootDescription = {
      band,
      ...(flexibility === undefined ? {} : { flexibility }),
      ...(crease === undefined ? {} : { crease: crease === 'yes' }),
      ...(ageWeeks === undefined ? {} : { ageGroup: ageGroupOf(ageWeeks * 7, plan) }),
    };
    const answer = footLikeThis(cohortOf(records, plan), plan, description);
    shown.stop();
    context.out(`${answer.statement}\n`);
    if (answer.refused) {
      context.setExitCode(EXIT.refused);
      return;
    }
    context.out(
      `Data up to ${formatDate(records.cutOff)}.\n${answer.cautions.map(line => `${line}\n`).join('')}`,
    );
  } finally {
    shown.stop();
  }
}

function ageInWeeks(text: string): number {
  const weeks = Number(text);
  if (!/^\d{1,3}(\.\d)?$/.test(text)) throw new InvalidArgumentError('Allowed: weeks, such as 10 or 10.5.');
  return weeks;
}
