import { cp, mkdtemp, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { findingsJson } from '../../../src/reports/findings-document.ts';
import {
  type Ledger,
  lockFolder,
  publishInto,
  settleReports,
  verifyFolder,
} from '../../../src/reports/publish/index.ts';
import { countMeasure, findingOf, inputOf } from '../disclosure/findings.ts';

const REPORT = 'audit-2026-Q1';
const publication = {
  report: REPORT,
  kind: 'audit',
  title: 'Quarterly audit',
  cutOff: '2026-04-07',
  software: 'forefoot-outcomes 0.1.0',
  planSha256: 'ab'.repeat(32),
  inputs: [{ file: 'episodes.csv', sha256: 'cd'.repeat(32) }],
};

function filesOf(corrected: number) {
  const input = inputOf([findingOf({ measures: [countMeasure('corrected', corrected, 'mild')] })]);
  return [
    { path: 'index.html', text: `<p>${corrected}</p>\n` },
    { path: 'findings.json', text: findingsJson(input) },
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

/** Publishes the next version, as after a run that was killed. */
const again = (root: string, corrected: number) =>
  publishInto(root, publication, filesOf(corrected), { replace: true });

let room = '';
let before = '';
let after = '';
let killed = '';

/** What a run notes before it moves the first thing. */
async function underway(replaces: boolean): Promise<string> {
  const ledger = JSON.parse(await readFile(join(after, 'ledger.json'), 'utf8')) as Ledger;
  return JSON.stringify({ report: REPORT, sha256: ledger.entries.at(-1)?.entrySha256, replaces });
}

beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-killed-'));
  [before, after, killed] = ['before', 'after', 'killed'].map(name => join(room, name)) as [
    string,
    string,
    string,
  ];
  for (const corrected of [12, 14, 16]) await again(before, corrected);
  await cp(before, after, { recursive: true });
  await again(after, 18);
  await cp(before, killed, { recursive: true });
});

afterEach(async () => {
  await rm(room, { recursive: true, force: true });
});

describe('a run killed while it published the fourth version', () => {
  const standing = () => join(killed, REPORT);
  const moved = () => join(killed, `.earlier-${REPORT}`);

  const stages: readonly (readonly [string, () => Promise<void>])[] = [
    ['before it had noted anything', async () => writeFile(join(killed, '.publishing'), '{"rep')],
    [
      'before it moved the third away',
      async () => writeFile(join(killed, '.publishing'), await underway(true)),
    ],
    [
      'with neither in place',
      async () => {
        await writeFile(join(killed, '.publishing'), await underway(true));
        await rename(standing(), moved());
        await cp(join(after, REPORT), join(killed, '.partial-1'), { recursive: true });
      },
    ],
    [
      'with the new one in place and not in the ledger',
      async () => {
        await writeFile(join(killed, '.publishing'), await underway(true));
        await rename(standing(), moved());
        await cp(join(after, REPORT), standing(), { recursive: true });
        await cp(join(after, 'index.html'), join(killed, 'index.html'));
        await writeFile(join(killed, 'ledger.json.partial-1'), '{"entr');
      },
    ],
  ];

  it.each(stages)('%s, leaves the third with all before it', async (_, kill) => {
    await kill();
    expect((await verifyFolder(killed)).faults).toContain(
      'a run was stopped while it published; the next one puts right what it left',
    );
    await settleReports(killed);
    expect(await bytesOf(killed)).toEqual(await bytesOf(before));
    expect(await again(killed, 18)).toMatchObject({ entry: { version: 4 }, changed: 1 });
    expect(await bytesOf(killed)).toEqual(await bytesOf(after));
  });

  it('after the ledger was written, has published it', async () => {
    await rm(killed, { recursive: true });
    await cp(after, killed, { recursive: true });
    await writeFile(join(killed, '.publishing'), await underway(true));
    await cp(join(before, REPORT), moved(), { recursive: true });
    expect(await again(killed, 18)).toMatchObject({ same: true, entry: { version: 4 } });
    expect(await bytesOf(killed)).toEqual(await bytesOf(after));
  });
});

describe('a first run killed before there was a ledger', () => {
  it('leaves nothing that keeps the next from publishing', async () => {
    await rm(after, { recursive: true });
    await again(after, 12);
    await rm(killed, { recursive: true });
    await cp(after, killed, { recursive: true });
    await rm(join(killed, 'ledger.json'));
    await writeFile(join(killed, '.publishing'), await underway(false));
    expect(await again(killed, 12)).toMatchObject({ same: false, entry: { version: 1 } });
    expect(await bytesOf(killed)).toEqual(await bytesOf(after));
  });
});

describe('a lock whose process is gone', () => {
  it('is taken over where its number has gone to another process', async () => {
    const lock = join(killed, '.lock');
    await writeFile(lock, JSON.stringify({ pid: process.pid, host: hostname(), started: 'another boot/1' }));
    if (process.platform === 'linux') await (await lockFolder(killed))();
    expect(await verifyFolder(killed)).toMatchObject({ faults: [] });
  });

  it('says since when it stands', async () => {
    await writeFile(join(killed, '.lock'), JSON.stringify({ pid: 1, host: 'another-machine' }));
    await expect(lockFolder(killed)).rejects.toThrow(
      /is in use by process 1 on another-machine since \d{4}-\d\d-\d\d \d\d:\d\d UTC; wait for it to end, or remove/,
    );
  });
});
