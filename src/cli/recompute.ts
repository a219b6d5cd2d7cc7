import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { canonicalJson, findingsDocument, type FindingsDocument } from '../reports/index.ts';
import { changedNumbers, type Ledger, latestEntries, type LedgerEntry } from '../reports/publish/index.ts';
import { counted } from './columns.ts';
import type { CommandContext } from './command.ts';
import { cohortFrom } from './outcomes.ts';
import { progress } from './progress.ts';
import { protectedFor, publicationOf } from './publish-outcomes.ts';
import type { ReadingOptions } from './reading-options.ts';
import { answersOf, questionsOf } from './report-kinds.ts';

/** What working out the numbers of published reports again came to. */
export interface Recomputed {
  /** Reports whose numbers were worked out. */
  readonly reports: readonly string[];
  /** Reports of another data cut-off, which the export cannot give. */
  readonly ofOtherData: readonly string[];
  readonly differences: readonly string[];
}

/**
 * Works out the findings of every report of a folder that has the data cut-off of an export, each kind by its own
 * questions and an audit for its own quarter, and names what the export gives otherwise.
 */
export async function recompute(
  folder: string,
  exported: string,
  options: ReadingOptions,
  context: CommandContext,
): Promise<Recomputed> {
  const read = await cohortFrom(exported, options, context);
  const ledger = JSON.parse(await readFile(join(folder, 'ledger.json'), 'utf8')) as Ledger;
  const reports: string[] = [];
  const ofOtherData: string[] = [];
  const differences: string[] = [];
  const shown = progress(context);
  try {
    for (const entry of latestEntries(ledger)) {
      const published = await findingsIn(join(folder, entry.report));
      if (published === undefined) continue;
      if (published.provenance.cutOff !== read.records.cutOff) {
        ofOtherData.push(entry.report);
        continue;
      }
      const quarter = published.findings.find(({ key }) => key === 'audit')?.period?.name;
      const questions = questionsOf(entry.kind, quarter);
      if (questions === undefined) {
        differences.push(`${entry.report}: a report of kind ${entry.kind} cannot be worked out again`);
        continue;
      }
      shown.say(`Working out ${entry.report}`);
      const truth = answersOf(read, questions);
      const { kind, title, period } = entry;
      const publication = publicationOf({ kind, title, ...(period === undefined ? {} : { period }) }, truth);
      const input = await protectedFor(folder, publication, truth);
      const now = JSON.parse(canonicalJson(findingsDocument(input))) as FindingsDocument;
      reports.push(entry.report);
      differences.push(...differencesOf(entry, published, now));
    }
  } finally {
    shown.stop();
  }
  if (reports.length === 0) differences.push('no report has the data cut-off of the export');
  return { reports, ofOtherData, differences };
}

/** How many reports were worked out again, in words. */
export function recomputedText({ reports, ofOtherData }: Recomputed): string {
  const others = ofOtherData.length === 0 ? '' : `; of another data cut-off: ${ofOtherData.join(', ')}`;
  return `${counted(reports.length, 'report')} worked out again: ${reports.join(', ') || 'none'}${others}`;
}

async function findingsIn(folder: string): Promise<FindingsDocument | undefined> {
  try {
    return JSON.parse(await readFile(join(folder, 'findings.json'), 'utf8')) as FindingsDocument;
  } catch {
    // The check of the files says that it is missing or was changed.
    return undefined;
  }
}

function differencesOf(
  { report }: LedgerEntry,
  published: FindingsDocument,
  now: FindingsDocument,
): readonly string[] {
  const [before, after] = [published.provenance, now.provenance];
  const lines: string[] = [];
  if (before.planSha256 !== after.planSha256) {
    lines.push(
      `${report}: was made with another plan (${before.planSha256.slice(0, 12)}); give that with --plan`,
    );
  }
  if (before.mappingSha256 !== after.mappingSha256) {
    const made =
      before.mappingSha256 === undefined
        ? 'without a mapping'
        : `with ${after.mappingSha256 === undefined ? 'a' : 'another'} mapping (${before.mappingSha256.slice(0, 12)})`;
    lines.push(`${report}: was made ${made}`);
  }
  // Numbers of another plan or mapping differ as they should.
  if (lines.length > 0) return lines;
  const own = new Map(
    [...after.files, ...(after.sources ?? [])].map(({ file, sha256 }) => [file, sha256] as const),
  );
  for (const { file, sha256 } of [...before.files, ...(before.sources ?? [])]) {
    if (own.get(file) !== sha256)
      lines.push(`${report}: ${file} of the export is not the one it was made from`);
  }
  for (const { finding, key, before: was, after: is } of changedNumbers(published, now)) {
    lines.push(`${report}: ${finding} ${key} was published as ${was}; the export gives ${is}`);
  }
  return lines;
}
