import { readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeQuarantine } from '../../../src/records/files/quarantine.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { readMapping } from '../../../src/records/mapping/read-mapping.ts';
import { TABLE_NAMES } from '../../../src/records/records.ts';
import { runCommand } from '../../cli/run-command.ts';
import { CLEAN, folderWith } from './folder.ts';

/** Episode E3 has a slip, so its wear is refused with it; a day of E1 has 25 hours. */
const FLAWED = {
  ...CLEAN,
  'episodes.csv': `${CLEAN['episodes.csv']}E3,I3,North,lefft,60,2025-02-10,,\n`,
  'wear.csv': `${CLEAN['wear.csv']}E3,2025-02-12,diary,20\nE1,2025-02-13,diary,25\nE3,2025-02-13,diary,21\n`,
};

function correct(folder: string, file: string, from: string, to: string): void {
  const path = join(folder, file);
  writeFileSync(path, readFileSync(path, 'utf8').replace(from, to));
}

describe('rows that were set aside', () => {
  it('come back corrected in the place of the others: nothing is lost, nothing is read twice', async () => {
    const folder = folderWith(FLAWED);
    const aside = join(folderWith({}), 'aside');
    const first = await readExport(folder);
    expect([first.counts.episodes.refused, first.counts.wear.refused]).toEqual([1, 3]);
    await writeQuarantine(folder, first, aside);
    correct(aside, 'episodes.csv', 'lefft', 'left');
    const second = join(folderWith({}), 'second');
    const half = await readExport(folder, { corrected: [aside] });
    expect(half.problems.map(({ message }) => message)).toEqual([
      'aside/wear.csv, line 3: hours_worn "25" is not within the 24 hours of a day; allowed: a number from 0 to 24',
    ]);
    expect(half.counts.wear).toMatchObject({
      file: 'wear.csv + aside/wear.csv',
      read: 5,
      accepted: 4,
      refused: 1,
    });
    expect(half.sources).toMatchObject([
      { file: 'episodes.csv', rows: 2, setAside: 1 },
      { file: 'aside/episodes.csv', rows: 1, setAside: 0 },
      { file: 'assessments.csv' },
      { file: 'phases.csv' },
      { file: 'wear.csv', rows: 2, setAside: 3 },
      { file: 'aside/wear.csv', rows: 3 },
      { file: 'events.csv' },
    ]);
    // What is still wrong is set aside again, and corrected again.
    await writeQuarantine(folder, half, second);
    expect(readFileSync(join(second, 'wear.csv'), 'utf8')).toBe(
      'episode_id,date,source,hours_worn\nE1,2025-02-13,diary,25\n',
    );
    correct(second, 'wear.csv', ',25', ',24');
    const whole = await readExport(folder, { corrected: [aside, second] });
    expect(whole.problems).toEqual([]);
    const mended = await readExport(
      folderWith({
        ...FLAWED,
        'episodes.csv': FLAWED['episodes.csv'].replace('lefft', 'left'),
        'wear.csv': FLAWED['wear.csv'].replace(',25', ',24'),
      }),
    );
    const rows = (records: typeof whole, table: (typeof TABLE_NAMES)[number]): readonly string[] =>
      (records.tables[table].objects() as readonly object[]).map(row => JSON.stringify(row)).sort();
    for (const table of TABLE_NAMES) expect(rows(whole, table)).toEqual(rows(mended, table));
  });

  it('are missed when they do not come back', async () => {
    const folder = folderWith(FLAWED);
    const aside = join(folderWith({}), 'aside');
    await writeQuarantine(folder, await readExport(folder), aside);
    correct(aside, 'episodes.csv', 'lefft', 'left');
    correct(aside, 'wear.csv', 'E1,2025-02-13,diary,25\n', '');
    const { problems } = await readExport(folder, { corrected: [aside] });
    expect(problems.map(({ message }) => message)).toEqual([
      'wear.csv: had 3 rows set aside, of which 2 came back corrected; allowed: every row that was set aside, corrected',
    ]);
  });

  it('do not come back to another file, nor without a list that can be read', async () => {
    const folder = folderWith(FLAWED);
    const aside = join(folderWith({}), 'aside');
    const records = await readExport(folder);
    await writeQuarantine(folder, records, aside);
    writeFileSync(join(folder, 'wear.csv'), `${FLAWED['wear.csv']}E2,2025-03-05,diary,3\n`);
    await expect(readExport(folder, { corrected: [aside] })).rejects.toThrow(
      'wear.csv: is not the file that it was when rows of it were set aside; allowed: the export as it was when the quarantine was written',
    );
    // The quarantine reads the rows again, and notices that they are others.
    await expect(writeQuarantine(folder, records, join(folderWith({}), 'other'))).rejects.toThrow(
      'wear.csv: was changed while it was being read; allowed: a file that nothing writes to',
    );
    writeFileSync(join(aside, 'set-aside.json'), '{"version":2}');
    await expect(readExport(folder, { corrected: [aside] })).rejects.toThrow(
      'aside/set-aside.json: cannot be read; allowed: the file as --quarantine wrote it',
    );
    await expect(readExport(folder, { corrected: [join(folder, 'none')] })).rejects.toThrow(
      'is not a folder; allowed: a folder of corrected rows',
    );
  });

  it('come back through a mapping and from a workbook as well, by the command', async () => {
    const mapping = join(folderWith({}), 'mapping.yaml');
    writeFileSync(
      mapping,
      'version: 1\nsources: {a: {file: a.csv}}\ntables: {episodes: [{from: a, fields: {episode_id: id, infant_id: id, site_id: {value: N}, foot: side, age_at_start_days: age, start_date: day}}]}\n',
    );
    const folder = folderWith({
      'a.csv': 'id,side,age,day\nE1,left,60,2025-02-10\nE2,rigth,60,2025-02-10\n',
    });
    const aside = join(folderWith({}), 'aside');
    const first = await runCommand('check', folder, '--mapping', mapping, '--quarantine', aside);
    expect([first.code, first.log]).toEqual([
      1,
      `Quarantine ${aside}: a.csv, set-aside.json, problems.csv\n`,
    ]);
    correct(aside, 'a.csv', 'rigth', 'right');
    const { code, out } = await runCommand('check', folder, '--mapping', mapping, '--with', aside);
    expect(code).toBe(0);
    expect(out).toContain('episodes: a.csv + aside/a.csv          2         2        0');
    expect(out).toMatch(/^a\.csv +1 +1 +0 +0$/m);
    expect(out).toMatch(/^aside\/a\.csv +1 +0 +0 +0$/m);
  });

  it('of a workbook are written as CSV, and read back in the place of the sheet', async () => {
    const clinic = new URL('../../reference/clinics/workbook/', import.meta.url);
    const folder = folderWith({ 'clinic.xlsx': readFileSync(new URL('clinic.xlsx', clinic)) });
    // As if all wear were in hours: most of it is out of range.
    const text = readFileSync(new URL('mapping.yaml', clinic), 'utf8');
    const wrong = readMapping(text.replace(', unit: minutes to hours', ''));
    const aside = join(folderWith({}), 'aside');
    const first = await readExport(folder, { mapping: wrong });
    expect(first.counts.wear.refused).toBeGreaterThan(400);
    const written = await writeQuarantine(folder, first, aside);
    expect(written).toEqual(['clinic.xlsx.Worn.csv', 'set-aside.json', 'problems.csv']);
    const lines = readFileSync(join(aside, 'clinic.xlsx.Worn.csv'), 'utf8').trimEnd().split('\n');
    expect(lines[0]).toBe('Episode,Day,Source,Minutes');
    expect(lines).toHaveLength(1 + first.counts.wear.refused);
    const again = await readExport(folder, { mapping: readMapping(text), corrected: [aside] });
    expect(again.problems).toEqual([]);
    expect(again.counts.wear).toMatchObject({ read: 500, accepted: 500 });
  });
});

describe('a symbolic link in an export', () => {
  it.each(['wear.csv', 'export.yaml'])('is refused by name and not followed: %s', async file => {
    const folder = folderWith(CLEAN);
    rmSync(join(folder, file));
    symlinkSync(join(folderWith(CLEAN), file), join(folder, file));
    const records = await readExport(folder);
    expect(records.problems.map(({ message }) => message)).toEqual([
      `${file}: is a symbolic link, which is not followed; allowed: the file itself`,
    ]);
    expect(records.counts.wear.read).toBe(file === 'wear.csv' ? 0 : 2);
  });

  it('in the place of the episodes leaves nothing to read', async () => {
    const folder = folderWith({});
    symlinkSync(join(folderWith(CLEAN), 'episodes.csv'), join(folder, 'episodes.csv'));
    await expect(readExport(folder)).rejects.toThrow(
      'episodes.csv: is a symbolic link, which is not followed',
    );
  });
});
