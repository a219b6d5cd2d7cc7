import { type Analysis, analyseDuration, analyseExport } from '../../analyses/index.ts';
import { closeMatches } from '../close-matches.ts';
import { counted, grouped } from '../columns.ts';
import { countsBehind } from '../counts-behind.ts';
import { type AddCommand, type CommandContext, UserError } from '../command.ts';
import { cohortFrom } from '../outcomes.ts';
import { type ReadingOptions, withReadingOptions } from '../reading-options.ts';
import { auditQuestions } from '../report-kinds.ts';
import { type TracedCount, tracedCounts } from '../traced-counts.ts';

interface WhyOptions extends ReadingOptions {
  readonly json?: true;
  readonly list?: true;
  readonly quarter: string;
}

const NOT_FOR_PUBLICATION =
  'Each code stands for the therapy of one child. This list is for checking at the desk; it must not be published.';

const EXAMPLES = `
KEY is the key of a finding and that of a count in it, with a stroke between, as in findings.json; flow/ and the key of a
step for the participant flow. FINDING/analysed lists the feet that a finding analyses, FINDING/leftOut.REASON those that it
leaves out. Of a number that is no count, such as a median, the counts behind it are named. ${NOT_FOR_PUBLICATION}

Exit code: 0 answered, 2 no count has the key, or the export cannot be used.

Examples:
  Which feet are behind "corrected, severe":
    $ forefoot why clinic-export time-to-correction/corrected.severe
  All keys:
    $ forefoot why clinic-export --list
  What fell due in an earlier quarter, as a point of a control chart counts it:
    $ forefoot why clinic-export audit/due.skin-review --quarter 2025-Q3
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
    .option('--quarter <name>', 'quarter of the audit, such as 2026-Q3, or previous', 'previous')
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
  const { records, cohort, plan } = await cohortFrom(folder, options, context);
  const analyses = [
    ...analyseExport(records, plan, cohort),
    ...analyseDuration(cohort, plan),
    ...auditQuestions(options.quarter)(records, plan, cohort),
  ];
  const counts = tracedCounts(analyses, cohort.flow);
  if (key === undefined || options.list === true) {
    context.out(options.json === true ? json({ version: 1, counts: listed(counts) }) : listText(counts));
    return;
  }
  const found = counts.get(key);
  if (found === undefined) {
    throw new UserError(unknownKey(key, analyses, [...counts.keys()]));
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

function unknownKey(key: string, analyses: readonly Analysis[], keys: readonly string[]): string {
  for (const analysis of analyses) {
    const { finding } = analysis;
    const item = [...finding.measures, ...(finding.effects ?? [])].find(
      found => `${finding.key}/${found.key}` === key,
    );
    if (item === undefined) continue;
    const behind = countsBehind(analysis, item).map(
      ({ part, count, keys: listed, derived }) =>
        `  ${part === 'n' ? 'rests on' : 'events'} ${grouped(count)}: ${derived ?? listed.join(' or ')}`,
    );
    return [
      `why: ${key} is no count but a ${item.kind}, which no list of episodes adds up to`,
      ...(behind.length === 0 ? [] : ['the counts behind it:', ...behind]),
    ].join('\n');
  }
  const near = closeMatches(key, keys);
  const help =
    near.length === 0 ? ['print all keys with --list'] : ['near to it:', ...near.map(word => `  ${word}`)];
  return [`why: no count has the key ${key}`, ...help].join('\n');
}

function json(document: unknown): string {
  return `${JSON.stringify(document, undefined, 2)}\n`;
}
