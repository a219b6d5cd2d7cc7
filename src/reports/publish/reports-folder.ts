import { createHash, randomUUID } from 'node:crypto';
import { lstat, mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { makeFolder } from '../../records/files/make-folder.ts';
import type { FindingsDocument } from '../findings-document.ts';
import { changedNumbers, changesCsv } from './changed-numbers.ts';
import { indexPage } from './index-page.ts';
import { EMPTY_LEDGER, type Ledger, type LedgerEntry, ledgerFaults, withEntry } from './ledger.ts';
import { lockFolder } from './lock.ts';
import { PublishError } from './publish-error.ts';
import { asPublishError, type PublishedFile, safePath } from './publish-folder.ts';

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
 * published. Publishing the same bytes again changes nothing.
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

async function publishLocked(
  root: string,
  publication: Publication,
  files: readonly PublishedFile[],
  replace: boolean,
  check: (earlier: readonly { readonly name: string; readonly findings: FindingsDocument }[]) => void,
): Promise<Published> {
  const ledger = await readLedger(root);
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
    await putInPlace(root, folder, partial, standing ? (last?.version ?? 1) : undefined, async () => {
      await writeWhole(join(root, 'index.html'), indexPage(next));
      await writeWhole(join(root, 'ledger.json'), ledgerText(next));
    });
  } finally {
    await rm(partial, { recursive: true, force: true }).catch(() => undefined);
  }
  return { folder, entry, changed: changes.length, same: false };
}

/** Swaps the new folder in, the earlier version moved inside it; puts everything back where a step fails. */
async function putInPlace(
  root: string,
  folder: string,
  partial: string,
  version: number | undefined,
  then: () => Promise<void>,
): Promise<void> {
  if (version === undefined) {
    await rename(partial, folder);
    await then().catch(async (error: unknown) => {
      await rm(folder, { recursive: true, force: true });
      throw error;
    });
    return;
  }
  const earlier = join(root, `.earlier-${randomUUID()}`);
  await rename(folder, earlier);
  try {
    await mkdir(join(partial, 'versions'), { recursive: true });
    const versions = (await exists(join(earlier, 'versions')))
      ? await readdir(join(earlier, 'versions'))
      : [];
    // Copies by name: the earlier folder stays whole until the new one stands.
    for (const one of versions)
      await copyFolder(join(earlier, 'versions', one), join(partial, 'versions', one));
    await copyFolder(earlier, join(partial, 'versions', String(version)), name => name !== 'versions');
    await rename(partial, folder);
    await then();
  } catch (error) {
    await rm(folder, { recursive: true, force: true });
    await rename(earlier, folder);
    throw error;
  }
  await rm(earlier, { recursive: true, force: true });
}

async function copyFolder(
  from: string,
  to: string,
  wanted: (name: string) => boolean = () => true,
): Promise<void> {
  await mkdir(to, { recursive: true });
  for (const entry of await readdir(from, { withFileTypes: true })) {
    if (!wanted(entry.name)) continue;
    const [source, target] = [join(from, entry.name), join(to, entry.name)];
    if (entry.isDirectory()) await copyFolder(source, target);
    else await writeFile(target, await readFile(source), { flag: 'wx' });
  }
}

async function writeFiles(folder: string, files: readonly PublishedFile[]): Promise<void> {
  await mkdir(folder, { recursive: true });
  for (const file of files) {
    const path = join(folder, safePath(file.path));
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, 'text' in file ? file.text : file.bytes, { flag: 'wx' });
  }
}

async function writeWhole(path: string, text: string): Promise<void> {
  const partial = `${path}.partial-${randomUUID()}`;
  try {
    await writeFile(partial, text, { flag: 'wx' });
    await rename(partial, path);
  } finally {
    await rm(partial, { force: true });
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

function ledgerText(ledger: Ledger): string {
  return `${JSON.stringify(ledger, null, 2)}\n`;
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
  const names = (await readdir(root)).filter(name => !name.startsWith('.'));
  if (names.length > 0 && !names.includes('ledger.json')) {
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

async function exists(path: string): Promise<boolean> {
  return (await lstat(path).catch(() => undefined)) !== undefined;
}
