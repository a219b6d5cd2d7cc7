import { randomUUID } from 'node:crypto';
import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { type FindingsInput, findingsJson } from '../findings-document.ts';

/**
 * Writes the findings alone as one JSON file, whole or not at all; an earlier file of that name is replaced.
 *
 * @returns the absolute path of the file
 */
export async function writeFindings(file: string, input: FindingsInput): Promise<string> {
  const target = resolve(file);
  const partial = join(dirname(target), `.${basename(target)}.partial-${randomUUID()}`);
  const text = findingsJson(input);
  await mkdir(dirname(target), { recursive: true });
  try {
    await writeFile(partial, text, { encoding: 'utf8', flag: 'wx' });
    await rename(partial, target);
  } catch (error) {
    await rm(partial, { force: true });
    throw error;
  }
  return target;
}
