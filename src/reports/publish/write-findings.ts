import { randomUUID } from 'node:crypto';
import { lstat, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { makeFolder } from '../../records/files/make-folder.ts';
import { type FindingsInput, findingsJson } from '../findings-document.ts';
import { PublishError } from './publish-error.ts';
import { asPublishError } from './publish-folder.ts';

/**
 * Writes the findings alone as one JSON file, whole or not at all; an earlier file of that name is replaced.
 *
 * @returns the absolute path of the file
 * @throws PublishError `exists` where something stands there that is no file, or `not-writable`
 */
export async function writeFindings(file: string, input: FindingsInput): Promise<string> {
  const target = resolve(file);
  const partial = join(dirname(target), `.${basename(target)}.partial-${randomUUID()}`);
  const text = findingsJson(input);
  const standing = await lstat(target).catch(() => undefined);
  if (standing !== undefined && !standing.isFile()) {
    throw new PublishError('exists', `${target} is no file, and is left alone; choose another place`);
  }
  try {
    await makeFolder(dirname(target));
    await writeFile(partial, text, { encoding: 'utf8', flag: 'wx' });
    await rename(partial, target);
  } catch (error) {
    await rm(partial, { force: true });
    throw asPublishError(error, target);
  }
  return target;
}
