import { createHash, randomUUID } from 'node:crypto';
import { lstat, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { makeFolder } from '../../records/files/make-folder.ts';
import type { FindingsDocument } from '../findings-document.ts';
import { changedNumbers, changesCsv } from './changed-numbers.ts';
import { EMPTY_LEDGER, type Ledger, type LedgerEntry, ledgerFaults, withEntry } from './ledger.ts';
import { lockFolder } from './lock.ts';
import { PublishError } from './publish-error.ts';
import { asPublishError, type PublishedFile, safePath } from './publish-folder.ts';
import { exists, putInPlace, putRight, UNDERWAY } from './put-in-place.ts';

/** What a reports folder holds at its top beside the folders of the reports. */
export const FOLDER_FILES = ['index.html', 'ledger.json'] as const;

/** What is being published, for the ledger. */
export type Publication = Pick<
  LedgerEntry,
  'report' | 'kind' | 'title' | 'cutOff' | 'software' | 'planSha256' | 'inputs'
> & { readonly period?: string; readonly mappingSha256?: string };

/** What became of it. */
export interface Published {
  /** Absolute path of the folder of the report. */
  readonly folder: string;
  readonly entry: LedgerEntry;
  /** Numbers that differ from the version before. */
  readonly changed: number;
  /** The very same report already stood there; nothing was written. */
  readonly same: boolean;
}

/**
 * Publishes a report into a folder of reports: into a sub-folder of its own, with an entry in `ledger.json` and a line in
 * `index.html`. An earlier version moves to `versions/N` of the sub-folder, and `changes.csv` lists the numbers that
 * changed. Everything is made beside and renamed; the ledger is written last, so that what it does not name was not
 * published, and what a killed run left is put right by it. Publishing the same bytes again changes nothing.
 *
 * @param check looks at the files and at the findings of all earlier versions before anything is put in place
 * @throws PublishError `exists`, `locked`, `not-a-report`, `unsafe-path`, `damaged` or `not-writable`
 */
export async function publishInto(
  reports: string,
  publication: Publication,
  files: readonly PublishedFile[],
  {
    replace = false,
    check = () => undefined,
  }: {
    readonly replace?: boolean;
    readonly check?: (
      earlier: readonly { readonly name: string; readonly findings: FindingsDocument }[],
    ) => void;
  } = {},
): Promise<Published> {
  const root = resolve(reports);
  try {
    await refuseForeign(root);
    await makeFolder(root);
    const unlock = await lockFolder(root);
    try {
      return await publishLocked(root, publication, files, replace, check);
    } finally {
      await unlock();
    }
  } catch (error) {
    throw asPublishError(error, root);
  }
}

/**
 * Puts a reports folder right after a run that was killed on the way, so that its earlier versions stand where they are
 * looked for. Does nothing where there is no such folder, or another run is at work in it.
 *
 * @throws PublishError `damaged`
 */
export async function settleReports(reports: string): Promise<void> {
  const root = resolve(reports);
  if (!(await exists(join(root, UNDERWAY)))) return;
  try {
    const unlock = await lockFolder(root);
    try {
      await putRight(root, await readLedger(root));
    } finally {
      await unlock();
    }
  } catch (error) {
    const refused = asPublishError(error, root);
    if (!(refused instanceof PublishError && refused.code === 'locked')) throw refused;
  }
}

async function publishLocked(
  root: string,
  publication: Publication,
  files: readonly PublishedFile[],
  replace: boolean,
  check: (earlier: readonly { readonly name: string; readonly findings: FindingsDocument }[]) => void,
): Promise<Published> {
  const ledger = await readLedger(root);
  await putRight(root, ledger);
  const folder = join(root, safePath(publication.report));
  const before = ledger.entries.filter(({ report }) => report === publication.report);
  const last = before[before.length - 1];
  const standing = await exists(folder);
  const outputs = files
    .map(file => ({ path: file.path, sha256: sha256Of('text' in file ? file.text : file.bytes) }))
    .sort((a, b) => (a.path < b.path ? -1 : 1));
  if (last !== undefined && standing && sameBut(last, publication, outputs)) {
    return { folder, entry: last, changed: 0, same: true };
  }
  if (standing && !replace) {
    throw new PublishError(
      'exists',
      `${folder} already holds a report; --replace publishes a new version and keeps the earlier one`,
    );
  }
  const earlier = standing ? await earlierFindings(folder, last?.version ?? 1) : [];
  check(earlier);
  const current = earlier[earlier.length - 1];
  const findings = files.find(({ path }) => path === 'findings.json');
  const changes =
    current === undefined || findings === undefined || !('text' in findings)
      ? []
      : changedNumbers(current.findings, JSON.parse(findings.text) as FindingsDocument);
  const extra = standing ? [{ path: 'changes.csv', text: changesCsv(changes) }] : [];
  const next = withEntry(ledger, {
    ...publication,
    version: (last?.version ?? 0) + 1,
    outputs: [...outputs, ...extra.map(({ path, text }) => ({ path, sha256: sha256Of(text) }))].sort(
      (a, b) => (a.path < b.path ? -1 : 1),
    ),
  });
  const entry = next.entries[next.entries.length - 1] as LedgerEntry;
  const partial = join(root, `.partial-${randomUUID()}`);
  try {
    await writeFiles(partial, [...files, ...extra]);
    await putInPlace(root, partial, next, standing ? (last?.version ?? 1) : undefined);
  } finally {
    await rm(partial, { recursive: true, force: true }).catch(() => undefined);
  }
  return { folder, entry, changed: changes.length, same: false };
}

async function writeFiles(folder: string, files: readonly PublishedFile[]): Promise<void> {
  await mkdir(folder, { recursive: true });
  for (const file of files) {
    const path = join(folder, safePath(file.path));
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, 'text' in file ? file.text : file.bytes, { flag: 'wx' });
  }
}

/** The ledger of a reports folder; an empty one where there is none. */
export async function readLedger(root: string): Promise<Ledger> {
  const text = await readFile(join(root, 'ledger.json'), 'utf8').catch(() => undefined);
  if (text === undefined) return EMPTY_LEDGER;
  const ledger = parsedLedger(text);
  const [fault] = ledger === undefined ? ['ledger.json is no ledger'] : ledgerFaults(ledger);
  if (fault !== undefined || ledger === undefined) {
    throw new PublishError('damaged', `${root}: ${fault ?? ''}; forefoot verify says more`);
  }
  return ledger;
}

export function parsedLedger(text: string): Ledger | undefined {
  try {
    const ledger = JSON.parse(text) as Ledger;
    return Array.isArray(ledger.entries) ? ledger : undefined;
  } catch {
    return undefined;
  }
}

/**
 * The findings of the versions of a report that stand in a reports folder, oldest first, without the latest where that
 * came from the same data, plan and software: publishing again must give the same.
 */
export async function earlierVersions(
  reports: string,
  publication: Pick<Publication, 'report' | 'planSha256' | 'mappingSha256' | 'software' | 'inputs'>,
): Promise<readonly { readonly name: string; readonly findings: FindingsDocument }[]> {
  const root = resolve(reports);
  const ledger = await readLedger(root);
  const last = ledger.entries.findLast(({ report }) => report === publication.report);
  if (last === undefined) return [];
  const found = await earlierFindings(join(root, safePath(publication.report)), last.version);
  const again =
    last.planSha256 === publication.planSha256 &&
    last.mappingSha256 === publication.mappingSha256 &&
    last.software === publication.software &&
    JSON.stringify(last.inputs) === JSON.stringify(publication.inputs);
  return again ? found.slice(0, -1) : found;
}

async function earlierFindings(folder: string, version: number) {
  const names = await readdir(join(folder, 'versions')).catch(() => []);
  const places = [
    ...names
      .sort((a, b) => Number(a) - Number(b))
      .map(name => [`version ${name}`, join(folder, 'versions', name)] as const),
    [`version ${version}`, folder] as const,
  ];
  const found: { name: string; findings: FindingsDocument }[] = [];
  for (const [name, place] of places) {
    const text = await readFile(join(place, 'findings.json'), 'utf8').catch(() => undefined);
    if (text !== undefined) found.push({ name, findings: JSON.parse(text) as FindingsDocument });
  }
  return found;
}

/** A folder with anything else at its top is not ours to write into; what begins with a dot is passed over. */
async function refuseForeign(root: string): Promise<void> {
  const standing = await lstat(root).catch(() => undefined);
  if (standing === undefined) return;
  if (!standing.isDirectory())
    throw new PublishError('not-a-report', `${root} is not a folder; choose another place`);
  const all = await readdir(root);
  const names = all.filter(name => !name.startsWith('.'));
  // A first run that was killed may have left a report, and no ledger yet.
  if (names.length > 0 && !names.includes('ledger.json') && !all.includes(UNDERWAY)) {
    throw new PublishError(
      'not-a-report',
      `${root} holds ${names.sort()[0] ?? ''} and no ledger.json, so it is no folder of reports, and is left alone; choose another place`,
    );
  }
}

function sameBut(last: LedgerEntry, now: Publication, outputs: LedgerEntry['outputs']): boolean {
  const own = last.outputs.filter(({ path }) => path !== 'changes.csv');
  return (
    JSON.stringify(own) === JSON.stringify(outputs) &&
    last.planSha256 === now.planSha256 &&
    last.mappingSha256 === now.mappingSha256 &&
    last.software === now.software &&
    JSON.stringify(last.inputs) === JSON.stringify(now.inputs)
  );
}

export function sha256Of(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
