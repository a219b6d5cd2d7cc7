import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { draftFolder } from '../../../src/records/files/draft-folder.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { readMapping } from '../../../src/records/mapping/read-mapping.ts';
import { TABLE_NAMES } from '../../../src/records/records.ts';
import { runCommand } from '../../cli/run-command.ts';
import { folderWith } from '../files/folder.ts';

const clinic = (name: string): string =>
  fileURLToPath(new URL(`../../reference/clinics/${name}`, import.meta.url));
const DIARY = 'Episode,Date,Source,Hours worn\n';

async function draftOf(files: Readonly<Record<string, string>>) {
  return draftFolder(folderWith(files));
}

describe('the draft of a mapping', () => {
  it('settles a whole clinic but for the encoding, and gives the same rows once that is answered', async () => {
    const draft = await draftFolder(clinic('german'));
    expect(new Set(draft.unsettled.map(({ question }) => question))).toEqual(
      new Set(['the file is not in UTF-8; is it in windows-1252, as drafted']),
    );
    expect(() => readMapping(draft.text)).toThrow('unsettled: behandlungen (encoding)');
    const answered = readMapping(draft.text.replace(/^unsettled:\n( .*\n)*/m, ''));
    const [drafted, canonical] = [
      await readExport(clinic('german'), { mapping: answered }),
      await readExport(clinic('canonical')),
    ];
    for (const table of TABLE_NAMES) {
      expect(drafted.tables[table].objects()).toEqual(canonical.tables[table].objects());
    }
  });

  it('needs no answer for FHIR resources, nor for a workbook whose header says that it counts minutes', async () => {
    expect((await draftFolder(clinic('fhir'))).unsettled).toEqual([]);
    const book = await draftFolder(clinic('workbook'));
    expect([book.unsettled, book.notes]).toEqual([
      [],
      ['worn.Minutes: is read as minutes to hours, as its header says'],
    ]);
  });

  it('leaves the order of dates open until a row settles it', async () => {
    const open = await draftOf({ 'diary.csv': `${DIARY}E1,03/04/2026,diary,20\nE1,04/04/2026,diary,20\n` });
    expect(open.unsettled[0]).toEqual({
      where: 'diary (dates)',
      question:
        'every date fits day-month-year and month-day-year; set "dates" of the source to the right one',
    });
    const settled = await draftOf({
      'diary.csv': `${DIARY}E1,03/04/2026,diary,20\nE1,13/04/2026,diary,20\n`,
    });
    expect(settled.unsettled.map(({ where }) => where)).toEqual(['tables']);
    expect(parse(settled.text)).toMatchObject({ sources: { diary: { dates: 'day-month-year' } } });
    const neither = await draftOf({
      'diary.csv': `${DIARY}E1,13/04/2026,diary,20\nE1,04/13/2026,diary,20\n`,
    });
    expect(neither.unsettled[0]?.question).toContain('no one order of day, month and year fits every date');
  });

  it('asks about words with no one meaning, numbers in another unit, and mixed decimals', async () => {
    const draft = await draftOf({
      'diary.csv': `${DIARY}${'E1,13/04/2026,app,"20,5"\n'.repeat(3)}E1,14/04/2026,Tagebuch,20.5\nE1,15/04/2026,Ann Example,1230\nE1,15/04/2026,diary,1230\n`,
    });
    expect(draft.unsettled.map(({ where, question }) => `${where}: ${question}`)).toEqual(
      [
        'tables: which file holds the episodes',
        'diary (numbers): some numbers have a decimal comma and some a decimal point; which is it',
        'diary.Source: what does "app" mean for source: sensor, diary, recall',
        'diary.Source: what does a text that is not shown here mean for source: sensor, diary, recall',
      ].sort((a, b) => Number(a.startsWith('tables')) - Number(b.startsWith('tables'))),
    );
    expect(draft.text).not.toContain('Ann Example');
    const minutes = await draftOf({
      'diary.csv': `${DIARY}E1,13/04/2026,diary,1230\nE1,14/04/2026,diary,1200\n`,
    });
    expect(minutes.unsettled[0]?.question).toBe(
      'most of its numbers are outside 0 to 24; in which unit are they',
    );
  });

  it('is written by the command, which never writes over a file, and which check refuses until it is settled', async () => {
    const folder = folderWith({ 'diary.csv': `${DIARY}E1,03/04/2026,diary,20\n` });
    const out = join(folderWith({}), 'mapping.yaml');
    const ran = await runCommand('map', folder, '--out', out);
    expect(ran.code).toBe(1);
    expect(ran.out).toContain('unsettled: diary (dates): every date fits');
    expect(ran.out).toMatch(/\n2 questions to settle\.\n$/);
    expect(readFileSync(out, 'utf8')).toContain('unsettled:');
    expect((await runCommand('map', folder, '--out', out)).log).toContain('(EEXIST); allowed: a new file');
    const checked = await runCommand('check', folder, '--mapping', out);
    expect([checked.code, checked.log]).toEqual([2, expect.stringContaining('unsettled: diary (dates)')]);
  });
});
