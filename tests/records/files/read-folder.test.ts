import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { episodeRows, wearColumns } from '../../../src/records/accessors.ts';
import { isoDate } from '../../../src/records/calendar-date.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { readExportFromText } from '../../../src/records/reading/read-text.ts';
import { TABLE_NAMES } from '../../../src/records/records.ts';
import { CLEAN, folderWith } from './folder.ts';

describe('reading an export folder', () => {
  it('gives the same as reading the same texts', async () => {
    const read = await readExport(folderWith(CLEAN));
    const fromText = readExportFromText({
      episodes: CLEAN['episodes.csv'],
      assessments: CLEAN['assessments.csv'],
      phases: CLEAN['phases.csv'],
      wear: CLEAN['wear.csv'],
      events: CLEAN['events.csv'],
      description: CLEAN['export.yaml'],
    });
    expect(read.problems).toEqual([]);
    expect(read.counts).toEqual(fromText.counts);
    for (const name of TABLE_NAMES)
      expect(read.tables[name].objects()).toEqual(fromText.tables[name].objects());
    expect([read.service, isoDate(read.cutOff)]).toEqual(['Invented Clinic', '2025-06-30']);
    expect(episodeRows(read)).toHaveLength(2);
    expect(read.counts.wear.sha256).toBe(createHash('sha256').update(CLEAN['wear.csv']).digest('hex'));
  });

  it('reads files longer than a chunk, characters and line ends across its border included', async () => {
    const start = Date.UTC(2025, 1, 10);
    const rows = Array.from({ length: 30_000 }, (_, i) => {
      const date = new Date(start + (i % 100) * 86_400_000).toISOString().slice(0, 10);
      return `E${Math.floor(i / 100)};${date};diary;${i % 25};née ${'€'.repeat(i % 4)}`;
    });
    const episodes = Array.from({ length: 300 }, (_, i) => `E${i},I${i},North,left,60,2025-02-10`);
    const records = await readExport(
      folderWith({
        'episodes.csv': ['episode_id,infant_id,site_id,foot,age_at_start_days,start_date', ...episodes].join(
          '\r\n',
        ),
        'wear.csv': `\uFEFF${['episode_id;date;source;hours_worn;batch', ...rows].join('\r\n')}`,
      }),
    );
    expect(records.problems.map(({ kind }) => kind)).toEqual([
      'missing-table',
      'missing-table',
      'missing-table',
    ]);
    expect(records.counts.wear).toMatchObject({ read: 30_000, accepted: 30_000, extraColumns: ['batch'] });
    const { hours, episode } = wearColumns(records);
    expect([hours[29_999], episode[29_999]]).toEqual([29_999 % 25, 299]);
  });

  it.each([
    [
      'Windows-1252',
      Buffer.from('episode_id,date,source,hours_worn\nE1,2025-02-11,diary,20,n\xe9e\n', 'latin1'),
    ],
    ['UTF-16', Buffer.from('\uFEFFepisode_id,date,source,hours_worn\n', 'utf16le')],
    ['a NUL byte', Buffer.from('episode_id,date,source,hours_worn\nE1,\0,diary,20\n')],
    ['a character cut off at the end', Buffer.from('episode_id,date\nE1,é').subarray(0, -1)],
  ])('refuses a file that is not UTF-8 as one row: %s', async (_, bytes) => {
    const records = await readExport(folderWith({ ...CLEAN, 'wear.csv': bytes }));
    expect(records.problems.map(({ kind, file }) => [kind, file])).toEqual([['not-utf-8', 'wear.csv']]);
    expect(records.counts.wear).toMatchObject({ read: 1, accepted: 0, refused: 1 });
  });

  it('throws where nothing can be made of the folder, naming the reason', async () => {
    await expect(readExport('no/such/folder')).rejects.toThrow(
      'no/such/folder: is not a folder; allowed: a folder with episodes.csv in it',
    );
    await expect(readExport(folderWith({}))).rejects.toThrow(
      'episodes.csv: is not in the export; allowed: a file of that name, or a mapping of the files that are there ("forefoot map" drafts one)',
    );
    await expect(
      readExport(folderWith({ 'episodes.csv': Buffer.from([0xff, 0xfe, 65, 0]) })),
    ).rejects.toThrow('episodes.csv: is not text in UTF-8');
  });

  it('reads the rows before an unclosed quotation mark and refuses the rest', async () => {
    const wear = `${CLEAN['wear.csv']}E2,2025-03-05,"sensor,18\nE2,2025-03-06,sensor,18\n`;
    const records = await readExport(folderWith({ ...CLEAN, 'wear.csv': wear }));
    expect(records.counts.wear).toMatchObject({ read: 3, accepted: 2, refused: 1 });
    expect(records.problems.map(({ kind, line }) => [kind, line])).toEqual([['unreadable-rest', 4]]);
  });

  it('tells of its progress', async () => {
    const told: unknown[] = [];
    const rows = Array.from({ length: 70_000 }, () => 'E1,2025-02-11,diary,20').join('\n');
    const wear = `episode_id,date,source,hours_worn\n${rows}`;
    await readExport(folderWith({ ...CLEAN, 'wear.csv': wear }), {
      onProgress: (file, rows) => told.push([file, rows]),
    });
    expect(told).toEqual([['wear.csv', 65_536]]);
  });
});
