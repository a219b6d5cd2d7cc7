import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { misnamedFile, symbolicLink } from '../problems/files.ts';
import type { Problem } from '../records.ts';
import { kindOfEntry } from './inspect.ts';

const ENDINGS = /(\.(csv|txt|tsv|xlsx?|ods|json))?(\.(gz|zip|bz2|xz|zst|7z))?$/i;

/**
 * Why a table has no file of its name, where the folder says more than that: a link, a folder of that name, or a file
 * that holds it under another name, packed or in capitals. Undefined where there is nothing of the kind.
 */
export async function whyAbsent(folder: string, file: string): Promise<Problem | undefined> {
  if ((await kindOfEntry(join(folder, file))) === 'link') return symbolicLink(file);
  const stem = file.replace(/\.csv$/, '');
  const names: string[] = (await readdir(folder).catch((): string[] => [])).sort();
  const found =
    names.find(name => name === file) ?? names.find(name => name.replace(ENDINGS, '').toLowerCase() === stem);
  return found === undefined ? undefined : misnamedFile(found, file);
}
