import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { findingsJson } from '../../../src/reports/findings-document.ts';
import {
  type Ledger,
  ledgerFaults,
  lockFolder,
  publishInto,
  verifyFolder,
} from '../../../src/reports/publish/index.ts';
import { countMeasure, findingOf, inputOf } from '../disclosure/findings.ts';

let room = '';
let reports = '';

beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-reports-'));
  reports = join(room, 'reports');
});

afterEach(async () => {
  await rm(room, { recursive: true, force: true });
});

const publication = {
  report: 'cohort-2026-06-30',
  kind: 'cohort',
  title: 'Cohort outcomes',
  cutOff: '2026-06-30',
  software: 'forefoot-outcomes 0.1.0',
  planSha256: 'ab'.repeat(32),
  inputs: [{ file: 'episodes.csv', sha256: 'cd'.repeat(32) }],
};

/** A report in which so many feet were corrected. */
function filesOf(corrected: number) {
  const input = inputOf([findingOf({ measures: [countMeasure('corrected', corrected, 'mild')] })]);
  return [
    { path: 'index.html', text: `<p>${corrected}</p>\n` },
    { path: 'findings.json', text: findingsJson(input) },
    { path: 'tables/a.csv', text: 'x\r\n' },
    { path: 'figures/a.png', bytes: Uint8Array.of(1, 2, 3) },
  ];
}

async function bytesOf(folder: string): Promise<Readonly<Record<string, string>>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries.filter(entry => entry.isFile()).map(entry => join(entry.parentPath, entry.name));
  const read = paths
    .sort()
    .map(async path => [path.slice(folder.length + 1), await readFile(path, 'latin1')]);
  return Object.fromEntries(await Promise.all(read)) as Record<string, string>;
}

const ledgerOf = async (): Promise<Ledger> =>
  JSON.parse(await readFile(join(reports, 'ledger.json'), 'utf8')) as Ledger;

describe('publishing into a folder of reports', () => {
  it('gives each report a folder, a line in the list and an entry in the ledger', async () => {
    const { folder, entry } = await publishInto(reports, publication, filesOf(12));
    expect(folder).toBe(join(reports, 'cohort-2026-06-30'));
    expect(entry).toMatchObject({ sequence: 1, version: 1, previous: '0'.repeat(64) });
    await publishInto(
      reports,
      { ...publication, report: 'audit-2026-Q2', kind: 'audit', period: '2026-Q2' },
      filesOf(9),
    );
    expect((await readdir(reports)).sort()).toEqual([
      'audit-2026-Q2',
      'cohort-2026-06-30',
      'index.html',
      'ledger.json',
    ]);
    const page = await readFile(join(reports, 'index.html'), 'utf8');
    expect(page).toContain('href="cohort-2026-06-30/index.html"');
    expect(page).toContain('2026-Q2');
    expect(page).toContain(entry.outputs.find(({ path }) => path === 'index.html')?.sha256);
    expect(page).toMatch(/default-src 'none'; style-src 'sha256-/);
    const ledger = await ledgerOf();
    expect(ledger.entries.map(({ sequence }) => sequence)).toEqual([1, 2]);
    expect(ledger.entries[1]?.previous).toBe(ledger.entries[0]?.entrySha256);
    expect(ledgerFaults(ledger)).toEqual([]);
  });

  it('gives the same bytes in two folders', async () => {
    await publishInto(reports, publication, filesOf(12));
    await publishInto(join(room, 'other'), publication, filesOf(12));
    expect(await bytesOf(join(room, 'other'))).toEqual(await bytesOf(reports));
  });

  it('changes nothing when the same is published again', async () => {
    await publishInto(reports, publication, filesOf(12));
    const before = await bytesOf(reports);
    expect(await publishInto(reports, publication, filesOf(12))).toMatchObject({ same: true, changed: 0 });
    expect(await bytesOf(reports)).toEqual(before);
  });

  it('publishes another only when told to, keeps the earlier one, and lists what changed', async () => {
    await publishInto(reports, publication, filesOf(12));
    const first = await bytesOf(join(reports, 'cohort-2026-06-30'));
    await expect(publishInto(reports, publication, filesOf(14))).rejects.toMatchObject({ code: 'exists' });
    expect(await bytesOf(join(reports, 'cohort-2026-06-30'))).toEqual(first);
    const second = await publishInto(reports, publication, filesOf(14), { replace: true });
    expect(second).toMatchObject({ same: false, changed: 1, entry: { version: 2 } });
    expect(await readFile(join(second.folder, 'changes.csv'), 'utf8')).toBe(
      'finding,key,before,after\r\nquestion,corrected.mild,12,14\r\n',
    );
    expect(await bytesOf(join(second.folder, 'versions', '1'))).toEqual(first);
    await publishInto(reports, publication, filesOf(15), { replace: true });
    expect((await readdir(join(second.folder, 'versions'))).sort()).toEqual(['1', '2']);
    expect(await readFile(join(reports, 'index.html'), 'utf8')).toContain('versions/2/index.html');
    expect((await verifyFolder(reports)).faults).toEqual([]);
  });

  it('leaves all as it was when the check refuses, and hands it every earlier version', async () => {
    await publishInto(reports, publication, filesOf(12));
    await publishInto(reports, publication, filesOf(13), { replace: true });
    const before = await bytesOf(reports);
    let names: readonly string[] = [];
    const check = (earlier: readonly { readonly name: string }[]): void => {
      names = earlier.map(({ name }) => name);
      throw new Error('refused');
    };
    await expect(publishInto(reports, publication, filesOf(14), { replace: true, check })).rejects.toThrow(
      'refused',
    );
    expect(names).toEqual(['version 1', 'version 2']);
    expect(await bytesOf(reports)).toEqual(before);
    expect((await readdir(reports)).filter(name => name.startsWith('.'))).toEqual([]);
  });

  it('puts everything back when the last step fails', async () => {
    await publishInto(reports, publication, filesOf(12));
    const before = await bytesOf(join(reports, 'cohort-2026-06-30'));
    await rm(join(reports, 'index.html'));
    // A folder in its place keeps the list from being written.
    await mkdir(join(reports, 'index.html', 'x'), { recursive: true });
    await expect(publishInto(reports, publication, filesOf(14), { replace: true })).rejects.toThrow(
      'a folder stands there',
    );
    expect(await bytesOf(join(reports, 'cohort-2026-06-30'))).toEqual(before);
    expect((await ledgerOf()).entries).toHaveLength(1);
    expect((await readdir(reports)).filter(name => name.startsWith('.'))).toEqual([]);
  });

  it('takes no notice of what a killed run left behind', async () => {
    await mkdir(join(reports, '.partial-killed'), { recursive: true });
    await writeFile(join(reports, '.partial-killed', 'index.html'), 'half');
    await publishInto(reports, publication, filesOf(12));
    expect((await verifyFolder(reports)).faults).toEqual([]);
  });

  it('leaves a folder alone that is none of reports', async () => {
    await mkdir(reports);
    await writeFile(join(reports, 'notes.txt'), 'mine');
    await expect(publishInto(reports, publication, filesOf(12))).rejects.toMatchObject({
      code: 'not-a-report',
    });
    expect(await bytesOf(reports)).toEqual({ 'notes.txt': 'mine' });
  });
});

describe('two runs at once', () => {
  it('do not meet: the second is told who is at work', async () => {
    await mkdir(reports);
    const unlock = await lockFolder(reports);
    await expect(publishInto(reports, publication, filesOf(12))).rejects.toMatchObject({
      code: 'locked',
      message: expect.stringContaining(`in use by process ${process.pid} on ${hostname()}`) as unknown,
    });
    await unlock();
    expect(await publishInto(reports, publication, filesOf(12))).toMatchObject({ same: false });
  });

  it('started together leave one report and a whole ledger', async () => {
    const runs = await Promise.allSettled([
      publishInto(reports, publication, filesOf(12)),
      publishInto(reports, publication, filesOf(12)),
    ]);
    expect(runs.some(({ status }) => status === 'fulfilled')).toBe(true);
    expect((await verifyFolder(reports)).faults).toEqual([]);
    expect((await ledgerOf()).entries).toHaveLength(1);
  });

  it('take over the lock of a run that is gone, not that of another machine', async () => {
    await mkdir(reports);
    const lock = join(reports, '.lock');
    await writeFile(lock, JSON.stringify({ pid: 2 ** 30, host: hostname() }));
    await (await lockFolder(reports))();
    await writeFile(lock, JSON.stringify({ pid: 2 ** 30, host: `not-${hostname()}` }));
    await expect(lockFolder(reports)).rejects.toMatchObject({ code: 'locked' });
    expect(await readdir(reports)).toEqual(['.lock']);
  });
});

describe('verifying', () => {
  beforeEach(async () => {
    await publishInto(reports, publication, filesOf(12));
    await publishInto(reports, publication, filesOf(13), { replace: true });
  });

  it('finds all as published', async () => {
    expect(await verifyFolder(reports)).toEqual({ reports: 1, files: 9, faults: [] });
  });

  it.each(['cohort-2026-06-30/figures/a.png', 'cohort-2026-06-30/versions/1/tables/a.csv'])(
    'finds a byte changed in %s',
    async path => {
      const bytes = await readFile(join(reports, path));
      bytes[0] = (bytes[0] ?? 0) ^ 1;
      await writeFile(join(reports, path), bytes);
      expect((await verifyFolder(reports)).faults).toEqual([`${path} was changed after it was published`]);
    },
  );

  it('finds a file missing, a file too many, and a list that does not fit', async () => {
    await rm(join(reports, 'cohort-2026-06-30', 'tables', 'a.csv'));
    await writeFile(join(reports, 'cohort-2026-06-30', 'more.txt'), 'x');
    await writeFile(join(reports, 'index.html'), 'x');
    expect((await verifyFolder(reports)).faults).toEqual([
      'cohort-2026-06-30/more.txt was not published',
      'cohort-2026-06-30/tables/a.csv is missing',
      'index.html does not list what the ledger holds',
    ]);
  });

  it('finds an entry of the ledger changed or taken out, and nothing is published on top of it', async () => {
    const text = await readFile(join(reports, 'ledger.json'), 'utf8');
    await writeFile(
      join(reports, 'ledger.json'),
      text.replace('"cutOff": "2026-06-30"', '"cutOff": "2026-07-01"'),
    );
    expect((await verifyFolder(reports)).faults).toContain(
      'ledger.json, entry 1 was changed after it was written',
    );
    await expect(publishInto(reports, publication, filesOf(14), { replace: true })).rejects.toMatchObject({
      code: 'damaged',
    });
    const ledger = JSON.parse(text) as Ledger;
    await writeFile(
      join(reports, 'ledger.json'),
      JSON.stringify({ ...ledger, entries: ledger.entries.slice(1) }),
    );
    expect((await verifyFolder(reports)).faults).toContain(
      'ledger.json, entry 1 does not follow the entry before it',
    );
    await rm(join(reports, 'ledger.json'));
    expect((await verifyFolder(reports)).faults).toEqual(['ledger.json is missing']);
  });
});
