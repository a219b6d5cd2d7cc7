import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { linesOf } from '../../../src/records/files/lines.ts';
import { writeQuarantine } from '../../../src/records/files/quarantine.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { CLEAN, folderWith } from './folder.ts';

const WEAR = [
  '\uFEFFhours_worn;batch;episode_id;date;source',
  '22;"one;\r\n""two""";E1;2025-02-12;diary',
  '25;" kept\r\nas it stands ";E1;2025-02-13;diary',
  '',
  '20;;E1;2025-02-14;diary',
  '20;=1+1;E1;2025-02-14;diary',
].join('\r\n');

async function quarantine(files: Readonly<Record<string, string | Uint8Array>>) {
  const folder = folderWith(files);
  const target = join(folderWith({}), 'quarantine');
  const written = await writeQuarantine(folder, await readExport(folder), target);
  return { folder, target, written };
}

describe('the quarantine', () => {
  it('holds the header and every refused row byte for byte, and the problems apart', async () => {
    const { target, written } = await quarantine({ ...CLEAN, 'wear.csv': WEAR });
    expect(written).toEqual(['wear.csv', 'set-aside.json', 'problems.csv']);
    expect(readdirSync(target).sort()).toEqual(['problems.csv', 'set-aside.json', 'wear.csv']);
    expect(readFileSync(join(target, 'wear.csv'), 'utf8')).toBe(
      [
        '\uFEFFhours_worn;batch;episode_id;date;source',
        '25;" kept\r\nas it stands ";E1;2025-02-13;diary',
        '20;=1+1;E1;2025-02-14;diary',
      ].join('\r\n'),
    );
    expect(readFileSync(join(target, 'problems.csv'), 'utf8').split('\n')).toEqual([
      'file,line,field,value,severity,kind,problem',
      'wear.csv,4,hours_worn,25,refused,out-of-range,"wear.csv, line 4: hours_worn ""25"" is not within the 24 hours of a day; allowed: a number from 0 to 24"',
      'wear.csv,8,episode_id + date + source,,refused,duplicate-key,"wear.csv, line 8: episode_id + date + source are the same as on line 7; allowed: one row for each"',
      '',
    ]);
  });

  it('can be corrected and fed back', async () => {
    const { target } = await quarantine({ ...CLEAN, 'wear.csv': WEAR });
    const corrected = readFileSync(join(target, 'wear.csv'), 'utf8')
      .replace('25;', '24;')
      .replace('20;=1+1;E1;2025-02-14', '20;=1+1;E1;2025-02-15');
    const records = await readExport(folderWith({ ...CLEAN, 'wear.csv': corrected }));
    expect(records.counts.wear).toMatchObject({ read: 2, accepted: 2, refused: 0 });
    expect(records.problems).toEqual([]);
  });

  it('holds the whole rest of a file that cannot be read on, and the whole of one not in UTF-8', async () => {
    const rest = 'E2,2025-03-05,"sensor,18\n\nE2,2025-03-06,sensor,18';
    const events = Buffer.from('épisode\n', 'latin1');
    const { target } = await quarantine({
      ...CLEAN,
      'wear.csv': `${CLEAN['wear.csv']}${rest}`,
      'events.csv': events,
    });
    expect(readFileSync(join(target, 'wear.csv'), 'utf8')).toBe(`episode_id,date,source,hours_worn\n${rest}`);
    expect(readFileSync(join(target, 'events.csv'))).toEqual(events);
  });

  it('hides what may identify a person in the list of problems, and leads formulas by an apostrophe', async () => {
    const { target } = await quarantine({
      ...CLEAN,
      'episodes.csv': `${CLEAN['episodes.csv']}Ann Example,I3,North,=left,60,2025-02-10,,\n`,
    });
    const text = readFileSync(join(target, 'problems.csv'), 'utf8');
    expect(text).not.toContain('Ann Example');
    expect(text).toContain(`,foot,'=left,refused,not-an-allowed-word,`);
    expect(readFileSync(join(target, 'episodes.csv'), 'utf8')).toContain('Ann Example');
  });

  it('writes nothing for an export without problems', async () => {
    const { target, written } = await quarantine(CLEAN);
    expect(written).toEqual([]);
    expect(readdirSync(target)).toEqual([]);
  });

  it('never writes into a folder that holds something', async () => {
    const folder = folderWith({ ...CLEAN, 'wear.csv': WEAR });
    const records = await readExport(folder);
    await expect(writeQuarantine(folder, records, folder)).rejects.toThrow(
      `${folder} is not empty; allowed: a new or empty folder`,
    );
    const file = join(folder, 'wear.csv');
    await expect(writeQuarantine(folder, records, file)).rejects.toThrow(
      `${file} cannot be written to (ENOTDIR); allowed: a new or empty folder`,
    );
    expect(readFileSync(file, 'utf8')).toBe(WEAR);
  });
});

describe('lines of a file', () => {
  const text = 'one\r\ntwo\rthree\n\n\r\r\nsix\n\rend';

  it.each([1, 2, 3, 4, 7, 100])('are the same in chunks of %i bytes', async size => {
    const bytes = new TextEncoder().encode(text);
    async function* chunks() {
      for (let start = 0; start < bytes.length; start += size) yield bytes.subarray(start, start + size);
    }
    const lines: string[] = [];
    for await (const part of linesOf(chunks())) {
      lines[part.line] = (lines[part.line] ?? '') + new TextDecoder().decode(part.bytes);
    }
    expect(lines.slice(1)).toEqual(['one\r\n', 'two\r', 'three\n', '\n', '\r', '\r\n', 'six\n', '\r', 'end']);
  });
});
