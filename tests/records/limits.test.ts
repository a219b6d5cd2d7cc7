import { closeSync, mkdirSync, openSync, readdirSync, symlinkSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readExport } from '../../src/records/files/read-folder.ts';
import { MOST_UNPACKED, unpacksWithin } from '../../src/records/files/zip-guard.ts';
import { readMapping } from '../../src/records/mapping/read-mapping.ts';
import { CLEAN, folderWith } from './files/folder.ts';
import { zipOf } from './fuzz/mutators.ts';

/** Memory in bytes that reading may take besides what is there before, whatever the size of the file. */
const ALLOWANCE = 400 * 1_048_576;

async function within<Value>(read: () => Promise<Value>): Promise<Value> {
  const before = process.memoryUsage().rss;
  const value = await read();
  expect(process.memoryUsage().rss - before).toBeLessThan(ALLOWANCE);
  return value;
}

/** Writes a text so often that the file has about so many MiB. */
function writeLarge(path: string, text: string, mebibytes: number): void {
  const chunk = Buffer.from(text.repeat(Math.ceil(1_048_576 / text.length)));
  const file = openSync(path, 'w');
  for (let i = 0; i < mebibytes; i++) writeSync(file, chunk);
  closeSync(file);
}

describe('what is too large', () => {
  it.each([
    ['a line of 64 MiB', 'x', 1],
    ['a header of 64 million columns', ',', 1],
    ['a quotation mark opened and never closed', '"', 1],
  ])('%s is refused from where it begins, in bounded memory', async (_, text, line) => {
    const folder = folderWith(CLEAN);
    writeLarge(join(folder, 'wear.csv'), text, 64);
    const records = await within(() => readExport(folder));
    expect(records.counts.wear).toMatchObject({ read: 1, accepted: 0, refused: 1 });
    expect(records.problems.map(found => [found.kind, found.file, found.line])).toEqual([
      ['unreadable-rest', 'wear.csv', line],
    ]);
  });

  it('a header of 200,000 columns is refused by their number', async () => {
    const wide = ',x'.repeat(200_000);
    const files = {
      ...CLEAN,
      'wear.csv': `episode_id,date,source,hours_worn${wide}\nE1,2025-02-12,diary,20${wide}\n`,
    };
    const records = await within(() => readExport(folderWith(files)));
    expect(records.problems.map(({ kind }) => kind)).toEqual(['too-many-columns']);
    expect(records.counts.wear).toMatchObject({ read: 1, refused: 1, extraColumns: [] });
  });

  it('a FHIR resource longer than a line may be, and a million short lines', async () => {
    const mapping = readMapping(
      'version: 1\nsources: {all: {file: all.ndjson}}\ntables: {episodes: [{from: all}]}\n',
    );
    const folder = folderWith({});
    writeLarge(join(folder, 'all.ndjson'), '[', 16);
    const refused = await within(() => readExport(folder, { mapping }));
    expect(refused.problems[0]).toMatchObject({ kind: 'unreadable-rest', line: 1 });
    expect(refused.counts.episodes).toMatchObject({ read: 1, refused: 1 });
    writeLarge(join(folder, 'all.ndjson'), '{}\n', 3);
    const records = await within(() => readExport(folder, { mapping }));
    expect(records.sources?.[0]).toMatchObject({
      file: 'all.ndjson',
      unused: records.sources?.[0]?.rows ?? 0,
    });
  });
});

describe('a workbook that unpacks to more than it says', () => {
  const mapping = readMapping(
    'version: 1\nsources: {all: {file: clinic.xlsx, sheet: A}}\ntables: {episodes: [{from: all}]}\n',
  );
  const zeros = Buffer.alloc(MOST_UNPACKED + 1);

  it.each([
    ['and says so', zipOf('xl/worksheets/sheet1.xml', zeros)],
    ['and claims to be small', zipOf('xl/worksheets/sheet1.xml', zeros, 100)],
  ])('is refused before it is read: it does, %s', async (_, bomb) => {
    expect(bomb.length).toBeLessThan(zeros.length / 500);
    expect(unpacksWithin(bomb, MOST_UNPACKED)).toBe(false);
    const folder = folderWith({ 'clinic.xlsx': bomb });
    await expect(within(() => readExport(folder, { mapping }))).rejects.toThrow(
      'clinic.xlsx (A): is no workbook, or unpacks to too much; allowed: an XLSX workbook of up to 64 MiB, 128 MiB unpacked',
    );
  });

  it('counts every entry, and tells a broken archive', () => {
    const small = zipOf('a', Buffer.alloc(1000));
    expect([unpacksWithin(small, 1000), unpacksWithin(small, 999)]).toEqual([true, false]);
    expect([unpacksWithin(Buffer.alloc(0), 9), unpacksWithin(Buffer.alloc(100), 9)]).toEqual([false, false]);
    expect(unpacksWithin(small.subarray(20), 1000)).toBe(false);
  });
});

describe('paths that lead out of the folder', () => {
  it.each(['../secret.csv', '/etc/passwd', 'a/b.csv', '..', 'a\\b.csv', 'a\0.csv'])(
    'are no file of a mapping: %j',
    file => {
      const text = JSON.stringify({
        version: 1,
        sources: { a: { file } },
        tables: { episodes: [{ from: 'a' }] },
      });
      expect(() => readMapping(text)).toThrow('sources.a.file');
    },
  );

  it('are not followed as links, and odd names and folders in the place of files are let be', async () => {
    const folder = folderWith({ ...CLEAN, '..%2f..%2fpasswd.csv': 'x', '<script>.csv': 'x' });
    symlinkSync('/etc/passwd', join(folder, 'passwd.csv'));
    mkdirSync(join(folder, 'sub.csv'));
    const before = readdirSync(folder).sort();
    expect((await readExport(folder)).problems).toEqual([]);
    expect(readdirSync(folder).sort()).toEqual(before);
    const mapping = readMapping(
      'version: 1\nsources: {a: {file: passwd.csv}}\ntables: {episodes: [{from: a}]}\n',
    );
    await expect(readExport(folder, { mapping })).rejects.toThrow('passwd.csv: is a symbolic link');
  });

  it.each(['WEAR.CSV', 'wear.csv.gz', 'Wear.xlsx', 'wear', 'wear.csv.zip'])(
    'a table under the name %s is not lost unseen',
    async name => {
      const { 'wear.csv': text, ...others } = CLEAN;
      const records = await readExport(folderWith({ ...others, [name]: text ?? '' }));
      expect(records.problems.map(({ severity, message }) => [severity, message])).toEqual([
        [
          'refused',
          `${name}: is not named wear.csv, so nothing of it was read; allowed: wear.csv, unpacked and as text`,
        ],
      ]);
      const { 'episodes.csv': episodes, ...rest } = CLEAN;
      await expect(readExport(folderWith({ ...rest, 'EPISODES.CSV': episodes ?? '' }))).rejects.toThrow(
        'EPISODES.CSV: is not named episodes.csv',
      );
    },
  );

  it('a folder in the place of a table is no table', async () => {
    const { 'wear.csv': _, ...others } = CLEAN;
    const folder = folderWith(others);
    mkdirSync(join(folder, 'wear.csv'));
    expect((await readExport(folder)).problems.map(({ kind, message }) => [kind, message])).toEqual([
      ['misnamed-file', 'wear.csv: is no file, so nothing of it was read; allowed: a file of that name'],
    ]);
  });
});
