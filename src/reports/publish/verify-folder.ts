import { readdir, readFile } from 'node:fs/promises';
import { join, resolve, sep } from 'node:path';
import { indexPage } from './index-page.ts';
import { latestEntries, ledgerFaults } from './ledger.ts';
import { exists, UNDERWAY } from './put-in-place.ts';
import { parsedLedger, sha256Of } from './reports-folder.ts';

/** What a check of a reports folder found. */
export interface FolderCheck {
  readonly reports: number;
  readonly files: number;
  /** What differs, one line each; nothing where all is as it was published. */
  readonly faults: readonly string[];
}

/** Hashes every file of a reports folder again and holds it against the ledger, whose chain is checked as well. */
export async function verifyFolder(folder: string): Promise<FolderCheck> {
  const root = resolve(folder);
  const text = await readFile(join(root, 'ledger.json'), 'utf8').catch(() => undefined);
  const ledger = text === undefined ? undefined : parsedLedger(text);
  if (ledger === undefined) {
    return {
      reports: 0,
      files: 0,
      faults: [`ledger.json ${text === undefined ? 'is missing' : 'is no ledger'}`],
    };
  }
  const faults: string[] = [...ledgerFaults(ledger)];
  const expected = new Map<string, string>();
  const latest = latestEntries(ledger);
  for (const entry of ledger.entries) {
    const place = latest.includes(entry) ? entry.report : `${entry.report}/versions/${entry.version}`;
    for (const { path, sha256 } of entry.outputs) expected.set(`${place}/${path}`, sha256);
  }
  for (const [path, sha256] of expected) {
    const bytes = await readFile(join(root, path)).catch(() => undefined);
    if (bytes === undefined) faults.push(`${path} is missing`);
    else if (sha256Of(bytes) !== sha256) faults.push(`${path} was changed after it was published`);
  }
  const index = await readFile(join(root, 'index.html'), 'utf8').catch(() => undefined);
  if (index === undefined) faults.push('index.html is missing');
  else if (index !== indexPage(ledger)) faults.push('index.html does not list what the ledger holds');
  if (await exists(join(root, UNDERWAY))) {
    faults.push('a run was stopped while it published; the next one puts right what it left');
  }
  const standing = await readdir(root, { recursive: true, withFileTypes: true });
  for (const file of standing) {
    if (!file.isFile()) continue;
    const path = join(file.parentPath, file.name)
      .slice(root.length + 1)
      .split(sep)
      .join('/');
    if (path === 'index.html' || path === 'ledger.json' || path.startsWith('.') || expected.has(path))
      continue;
    faults.push(`${path} was not published`);
  }
  return { reports: latest.length, files: expected.size, faults: faults.sort() };
}
