import { randomUUID } from 'node:crypto';
import { lstat, mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { indexPage } from './index-page.ts';
import type { Ledger, LedgerEntry } from './ledger.ts';

/** Stands in a reports folder from before the first thing is moved until the last is done: what a killed run was at. */
export const UNDERWAY = '.publishing';

/**
 * Puts a report that was made in full beside the others into its place, and the list and the ledger after it. The earlier
 * versions are copied into the new folder before anything moves, so that at every moment all of them stand in one folder
 * or the other; a run that is killed is put right by the next (`putRight`), and a step that fails at once.
 *
 * @param partial the new report, in a folder whose name begins with a dot
 * @param next the ledger with its entry
 * @param standing the version that stands there, if one does
 */
export async function putInPlace(
  root: string,
  partial: string,
  next: Ledger,
  standing: number | undefined,
): Promise<void> {
  const entry = next.entries[next.entries.length - 1] as LedgerEntry;
  const folder = join(root, entry.report);
  if (standing !== undefined) await copyVersions(folder, partial, standing);
  await writeFile(
    join(root, UNDERWAY),
    `${JSON.stringify({ report: entry.report, sha256: entry.entrySha256, replaces: standing !== undefined })}\n`,
    { flag: 'wx' },
  );
  try {
    if (standing !== undefined) await rename(folder, earlierPlace(root, entry.report));
    await rename(partial, folder);
    await writeWhole(join(root, 'index.html'), indexPage(next));
    await writeWhole(join(root, 'ledger.json'), ledgerText(next));
  } catch (error) {
    // What cannot be put right now is by the next run; the first error is the one to tell.
    await putRight(root, { ...next, entries: next.entries.slice(0, -1) }).catch(() => undefined);
    throw error;
  }
  await putRight(root, next);
}

/**
 * Brings a reports folder into the state that its ledger tells of, after a run that was killed on the way: a report that
 * the ledger does not name yet is taken out again and the one before it put back, one that it names stays; what the run
 * left behind is removed. Needs the lock.
 */
export async function putRight(root: string, ledger: Ledger): Promise<void> {
  const underway = await readUnderway(root);
  const takenOut = underway !== undefined && (await takeOut(root, underway, ledger));
  await rm(join(root, UNDERWAY), { force: true });
  for (const name of await readdir(root)) {
    if (/^\.partial-|^(index\.html|ledger\.json)\.partial-/.test(name))
      await rm(join(root, name), { recursive: true, force: true });
  }
  if (!takenOut) return;
  // The list is written before the ledger.
  const list = join(root, 'index.html');
  if (ledger.entries.length === 0) await rm(list, { force: true });
  else await writeWhole(list, indexPage(ledger));
}

/** Takes a report that the ledger does not name out again, the one before it back in its place; tells whether it had to. */
async function takeOut(
  root: string,
  { report, sha256, replaces }: Underway,
  ledger: Ledger,
): Promise<boolean> {
  const [folder, earlier] = [join(root, report), earlierPlace(root, report)];
  const moved = await exists(earlier);
  const published = ledger.entries.some(({ entrySha256 }) => entrySha256 === sha256);
  const wanted = !published && (moved || !replaces);
  if (wanted) {
    await rm(folder, { recursive: true, force: true });
    if (moved) await rename(earlier, folder);
  }
  await rm(earlier, { recursive: true, force: true });
  return wanted;
}

interface Underway {
  readonly report: string;
  /** Of the entry that the ledger gets when all is done. */
  readonly sha256: string;
  /** Whether an earlier version stands there, to be moved away first. */
  readonly replaces: boolean;
}

/** Nothing where no run was under way, or it was killed before it had said what it was at, and so before it moved anything. */
async function readUnderway(root: string): Promise<Underway | undefined> {
  const text = await readFile(join(root, UNDERWAY), 'utf8').catch(() => '');
  try {
    const { report, sha256, replaces } = JSON.parse(text) as Partial<Underway>;
    if (typeof report !== 'string' || !/^[\w-]+$/.test(report)) return undefined;
    if (typeof sha256 !== 'string' || typeof replaces !== 'boolean') return undefined;
    return { report, sha256, replaces };
  } catch {
    return undefined;
  }
}

function earlierPlace(root: string, report: string): string {
  return join(root, `.earlier-${report}`);
}

/** Copies by name: the folder that stands stays whole until the new one does. */
async function copyVersions(folder: string, partial: string, version: number): Promise<void> {
  const versions = join(folder, 'versions');
  for (const one of (await exists(versions)) ? await readdir(versions) : [])
    await copyFolder(join(versions, one), join(partial, 'versions', one));
  await copyFolder(folder, join(partial, 'versions', String(version)), name => name !== 'versions');
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

async function writeWhole(path: string, text: string): Promise<void> {
  const partial = `${path}.partial-${randomUUID()}`;
  try {
    await writeFile(partial, text, { flag: 'wx' });
    await rename(partial, path);
  } finally {
    await rm(partial, { force: true });
  }
}

function ledgerText(ledger: Ledger): string {
  return `${JSON.stringify(ledger, null, 2)}\n`;
}

export async function exists(path: string): Promise<boolean> {
  return (await lstat(path).catch(() => undefined)) !== undefined;
}
