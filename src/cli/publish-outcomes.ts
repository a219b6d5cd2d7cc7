import { join } from 'node:path';
import { isoDate } from '../records/calendar-date.ts';
import {
  attack,
  DisclosureError,
  type FindingsInput,
  protectFindings,
  type ReportDocument,
  type ReportFile,
} from '../reports/index.ts';
import {
  earlierVersions,
  madeFiles,
  type Publication,
  type Published,
  PublishError,
  publishInto,
  settleReports,
} from '../reports/publish/index.ts';
import { type CommandContext, UserError } from './command.ts';
import { outcomesSummary } from './outcomes-summary.ts';

/** The kind of a report and what its list in the reports folder says of it. */
export interface PublishedKind {
  readonly kind: string;
  readonly title: string;
  /** Such as `2026-Q3`; without one the data cut-off names the folder. */
  readonly period?: string;
}

/** What the ledger is to say of a report. */
export function publicationOf(
  { kind, title, period }: PublishedKind,
  { provenance }: Pick<FindingsInput, 'provenance'>,
): Publication {
  const cutOff = isoDate(provenance.cutOff);
  return {
    report: `${kind}-${period ?? cutOff}`,
    kind,
    title,
    cutOff,
    ...(period === undefined ? {} : { period }),
    software: `${provenance.software} ${provenance.version}`,
    planSha256: provenance.planSha256,
    ...(provenance.mappingSha256 === undefined ? {} : { mappingSha256: provenance.mappingSha256 }),
    inputs: [
      ...provenance.files.map(({ file, sha256 }) => ({ file, sha256 })),
      ...(provenance.sources ?? []),
    ],
  };
}

/** The findings as they may be published into a folder of reports, with an eye to the versions that stand there. */
export async function protectedFor(
  reports: string,
  publication: Publication,
  truth: FindingsInput,
): Promise<FindingsInput> {
  return protectFindings(truth, await earlierVersions(reports, publication));
}

/** How a report is to be published, as the options of a command say. */
export interface PublishingOptions {
  readonly out: string;
  readonly replace?: true;
  readonly pdf?: true;
  readonly quiet?: true;
}

/**
 * Protects the findings, makes the report of them, and publishes it into a folder of reports once no small count can be
 * worked out of it. One line of result; the summary goes to the log.
 *
 * @param truth the findings before anything was hidden
 * @throws UserError where nothing was published, also naming what leaks
 */
export async function publishProtected(
  kind: PublishedKind,
  truth: FindingsInput,
  report: (input: FindingsInput) => ReportDocument | Promise<ReportDocument>,
  options: PublishingOptions,
  context: CommandContext,
): Promise<void> {
  try {
    const publication = publicationOf(kind, truth);
    await settleReports(options.out);
    const input = await protectedFor(options.out, publication, truth);
    const files = await madeFiles(await report(input), input, { pdf: options.pdf === true });
    const published = await publishUnlessLeaking(
      options.out,
      publication,
      files,
      truth,
      options.replace === true,
    );
    const name = `${kind.kind.charAt(0).toUpperCase()}${kind.kind.slice(1)} report`;
    context.out(`${name}: ${join(published.folder, 'index.html')} (${whatBecame(published)})\n`);
    if (options.quiet !== true) for (const line of outcomesSummary(input)) context.log(`${line}\n`);
  } catch (error) {
    const users = error instanceof PublishError || error instanceof DisclosureError;
    throw users ? new UserError(error.message, { cause: error }) : error;
  }
}

/** A context in which nothing is said while the work goes on. */
export function quietly(options: Pick<PublishingOptions, 'quiet'>, context: CommandContext): CommandContext {
  return options.quiet === true ? { ...context, terminal: false } : context;
}

async function publishUnlessLeaking(
  reports: string,
  publication: Publication,
  files: readonly ReportFile[],
  truth: FindingsInput,
  replace: boolean,
): Promise<Published> {
  const texts = files.flatMap(file => ('text' in file ? [file] : []));
  const refuse = (leaks: readonly string[]): void => {
    if (leaks.length > 0) throw new DisclosureError(leaks);
  };
  refuse(attack(texts, truth));
  return publishInto(reports, publication, files, {
    replace,
    check: earlier => refuse(attack(texts, truth, earlier)),
  });
}

function whatBecame({ same, changed, entry }: Published): string {
  if (same) return `version ${entry.version} stands already, unchanged`;
  if (entry.version === 1) return 'version 1';
  return `version ${entry.version}, ${changed} ${changed === 1 ? 'number' : 'numbers'} changed`;
}
