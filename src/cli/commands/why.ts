import { analyseAudit, analyseCohort, analyseDuration } from '../../analyses/index.ts';
import { closeMatches } from '../close-matches.ts';
import { counted, grouped } from '../columns.ts';
import { type AddCommand, type CommandContext, UserError } from '../command.ts';
import { cohortFrom } from '../outcomes.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';
import { type TracedCount, tracedCounts } from '../traced-counts.ts';

interface WhyOptions extends ReadingOptions {
  readonly json?: true;
  readonly list?: true;
}

const NOT_FOR_PUBLICATION =
  'Each code stands for the therapy of one child. This list is for checking at the desk; it must not be published.';

const EXAMPLES = `
KEY is the key of a finding and that of a count in it, with a stroke between, as in findings.json; flow/ and the key of a
step for the participant flow. ${NOT_FOR_PUBLICATION}

Exit code: 0 answered, 2 no count has the key, or the export cannot be used.

Examples:
  Which feet are behind "corrected, severe":
    $ forefoot why clinic-export time-to-correction/corrected.severe
  All keys:
    $ forefoot why clinic-export --list
  The participant flow is counted as well; here as JSON:
    $ forefoot why clinic-export flow/accepted --json
`;

export const addWhy: AddCommand = (program, context) => {
  const command = program
    .command('why')
    .summary('list the episodes behind a count, and the rule that put them there')
    .description(
      'Lists the episodes of the export in the folder EXPORT that make up one count of the findings.',
    )
    .argument('<EXPORT>', 'folder with episodes.csv, assessments.csv, phases.csv, wear.csv and events.csv')
    .argument('[KEY]', 'such as time-to-correction/corrected.severe');
  withReadingOptions(command)
    .option('--list', 'print every key with its count instead')
    .option('--json', 'print a JSON document')
    .addHelpText('after', EXAMPLES)
    .action((folder: string, key: string | undefined, options: WhyOptions) =>
      why(folder, key, options, context),
    );
};

async function why(
  folder: string,
  key: string | undefined,
  options: WhyOptions,
  context: CommandContext,
): Promise<void> {
  if (key === undefined && options.list !== true) {
    throw new UserError('why: KEY is missing; name a count, or print all keys with --list');
  }
  const { cohort, plan } = await cohortFrom(folder, options, context);
  const analyses = [
    ...analyseCohort(cohort, plan),
    ...analyseDuration(cohort, plan),
    // Of the last full quarter, as the audit report has it unless asked for another.
    ...analyseAudit(cohort, plan),
  ];
  const counts = tracedCounts(analyses, cohort.flow);
  if (key === undefined || options.list === true) {
    context.out(options.json === true ? json({ version: 1, counts: listed(counts) }) : listText(counts));
    return;
  }
  const found = counts.get(key);
  if (found === undefined) {
    const kind = analyses
      .flatMap(({ finding }) =>
        finding.measures.map(measure => ({ at: `${finding.key}/${measure.key}`, measure })),
      )
      .find(({ at }) => at === key)?.measure.kind;
    throw new UserError(unknownKey(key, kind, [...counts.keys()]));
  }
  const infantOf = new Map(cohort.feet.map(foot => [foot.episode, foot.infant]));
  const infants = new Set(found.episodes.map(({ episode }) => infantOf.get(episode) ?? episode)).size;
  context.out(
    options.json === true
      ? json({ version: 1, caution: NOT_FOR_PUBLICATION, ...found, infants })
      : countText(found, infants),
  );
}

function listed(counts: ReadonlyMap<string, TracedCount>) {
  return [...counts.values()].map(({ key, label, unit, count }) => ({ key, label, unit, count }));
}

function listText(counts: ReadonlyMap<string, TracedCount>): string {
  return [...counts.values()].map(({ key, count, unit }) => `${key}  ${grouped(count)} ${unit}\n`).join('');
}

function countText({ key, label, unit, count, rule, episodes }: TracedCount, infants: number): string {
  const ofWhom = ` of ${counted(infants, 'infant')}`;
  const behind = unit === 'feet' ? ofWhom : ` in ${counted(episodes.length, 'episode')}${ofWhom}`;
  return [
    `${key}: ${label}`,
    `Count: ${grouped(count)} ${unit}${behind}`,
    `Rule: ${rule}`,
    NOT_FOR_PUBLICATION,
    '',
    ...episodes.map(({ episode, times }) => (times === 1 ? episode : `${episode} (${times} ${unit})`)),
    '',
  ].join('\n');
}

function unknownKey(key: string, kind: string | undefined, keys: readonly string[]): string {
  const near = closeMatches(key, keys);
  const what =
    kind === undefined
      ? `why: no count has the key ${key}`
      : `why: ${key} is no count but a ${kind}, which no list of episodes adds up to`;
  const help =
    near.length === 0 ? ['print all keys with --list'] : ['near to it:', ...near.map(word => `  ${word}`)];
  return [what, ...help].join('\n');
}

function json(document: unknown): string {
  return `${JSON.stringify(document, undefined, 2)}\n`;
}
