import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { ProblemCollector } from '../problems/collector.ts';
import { symbolicLink } from '../problems/files.ts';
import { kindOfEntry } from './inspect.ts';

const FILE = 'export.yaml';
const LONGEST = 65_536;

/** The text of `export.yaml`, if there is one; one that is far too long is not read. */
export async function descriptionText(folder: string): Promise<string | undefined> {
  const path = join(folder, FILE);
  if ((await kindOfEntry(path)) !== 'file') return undefined;
  const { size } = await stat(path);
  return size > LONGEST ? '\0' : readFile(path, 'utf8');
}

export async function refuseLinkedDescription(folder: string, problems: ProblemCollector): Promise<void> {
  if ((await kindOfEntry(join(folder, FILE))) === 'link') problems.add(symbolicLink(FILE));
}
