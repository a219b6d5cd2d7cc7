import { randomUUID } from 'node:crypto';
import { lstat, mkdir, readdir, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, normalize, resolve, sep } from 'node:path';
import { makeFolder } from '../../records/files/make-folder.ts';
import { PublishError } from './publish-error.ts';

/** A file of a published folder: its path with `/`, and its text or its bytes. */
export type PublishedFile =
  | { readonly path: string; readonly text: string }
  | { readonly path: string; readonly bytes: Uint8Array };

/** A kind of folder that is published whole: what it is called, and what it holds at its top. */
export interface FolderKind {
  readonly name: string;
  readonly holds: ReadonlySet<string>;
}

const REPORT: FolderKind = {
  name: 'a report',
  holds: new Set(['index.html', 'report.pdf', 'findings.json', 'tables', 'figures']),
};

/**
 * Publishes files as a folder, whole or not at all: they are written into a folder beside it, which is then renamed. A
 * run that stops half-way leaves the folder as it was; what it had written stands under a name that begins with a dot
 * and is never taken for a report.
 *
 * @param replace put it in the place of an earlier one of its kind
 * @param kind a folder that holds anything else is not ours to replace
 * @returns the absolute path of the folder
 * @throws PublishError `exists`, `not-a-report`, `unsafe-path` or `not-writable`
 */
export async function publishFolder(
  folder: string,
  files: Iterable<PublishedFile> | AsyncIterable<PublishedFile>,
  { replace = false, kind = REPORT }: { readonly replace?: boolean; readonly kind?: FolderKind } = {},
): Promise<string> {
  const target = resolve(folder);
  const replaced = await refuseOrReplace(target, replace, kind);
  const partial = sibling(target, 'partial');
  try {
    await makeFolder(partial);
    for await (const file of files) {
      const path = join(partial, safePath(file.path));
      await mkdir(dirname(path), { recursive: true });
      await writeFile(path, 'bytes' in file ? file.bytes : file.text, { flag: 'wx' });
    }
    await moveIntoPlace(partial, target, replaced);
  } catch (error) {
    // What cannot be removed never came to be; the first error is the one to tell.
    await rm(partial, { recursive: true, force: true }).catch(() => undefined);
    throw asPublishError(error, target);
  }
  return target;
}

/** Whether something stands there that is to be replaced. */
async function refuseOrReplace(
  target: string,
  replace: boolean,
  { name, holds }: FolderKind,
): Promise<boolean> {
  const standing = await lstat(target).catch(() => undefined);
  if (standing === undefined) return false;
  if (!standing.isDirectory()) {
    throw new PublishError('not-a-report', `${target} is not a folder; choose another place`);
  }
  const names = await readdir(target);
  if (names.length === 0) return true;
  const foreign = names.filter(entry => !holds.has(entry)).sort()[0];
  if (foreign !== undefined) {
    throw new PublishError(
      'not-a-report',
      `${target} holds ${foreign}, which is no part of ${name}, and is left alone; choose another place`,
    );
  }
  if (!replace) {
    throw new PublishError(
      'exists',
      `${target} already holds ${name}; --replace puts the new one in its place`,
    );
  }
  return true;
}

async function moveIntoPlace(partial: string, target: string, replaced: boolean): Promise<void> {
  if (!replaced) {
    await rename(partial, target);
    return;
  }
  const earlier = sibling(target, 'earlier');
  await rename(target, earlier);
  try {
    await rename(partial, target);
  } catch (error) {
    await rename(earlier, target);
    throw error;
  }
  await rm(earlier, { recursive: true, force: true });
}

function sibling(target: string, what: 'partial' | 'earlier'): string {
  return join(dirname(target), `.${basename(target)}.${what}-${randomUUID()}`);
}

export function safePath(path: string): string {
  const clean = normalize(path);
  if (isAbsolute(clean) || clean.split(sep).includes('..') || !/^[\w./-]+$/.test(path)) {
    throw new PublishError('unsafe-path', `${JSON.stringify(path)} is no path inside a published folder`);
  }
  return clean;
}

export function asPublishError(error: unknown, target: string): unknown {
  if (error instanceof PublishError || !(error instanceof Error) || !('code' in error)) return error;
  const code = String(error.code);
  const reasons: Readonly<Record<string, string>> = {
    EACCES: 'no permission to write there',
    EPERM: 'no permission to write there',
    EROFS: 'the disk is read-only',
    ENOENT: 'no folder can be made there',
    EISDIR: 'a folder stands there',
    EDQUOT: 'the disk is full',
    ENOSPC: 'the disk is full',
    ENOTDIR: 'part of the path is a file',
  };
  const reason = reasons[code];
  if (reason === undefined) return error;
  return new PublishError('not-writable', `${target} cannot be written: ${reason}`, { cause: error });
}
