import { describe, expect, it } from 'vitest';
import { isoDateFrom, plusDays } from '../../../src/records/mapping/date-text.ts';
import { repeated } from '../../../src/records/mapping/blocks.ts';
import { MappingError, readMapping } from '../../../src/records/mapping/read-mapping.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { folderWith } from '../files/folder.ts';

const MAPPING = `
version: 1
values: {dates: day-month-year, decimal: comma, missing: [k. A.]}
sources:
  cases: {file: cases.csv, ignore: [Name]}
  diary: {file: diary.csv}
tables:
  episodes:
    - from: cases
      fields:
        episode_id: Case
        infant_id: Child
        site_id: {value: North}
        foot: {column: Foot, words: {L: left, R: right}}
        age_at_start_days: {column: Age, unit: weeks to days}
        start_date: Start
        end_date: End
        end_reason: {column: Why, words: {done: finished}}
  wear:
    - from: diary
      where: [{column: What, is: [worn]}]
      fields:
        episode_id: Case
        date: Day
        source: {value: diary}
        hours_worn: Hours
`;
const CASES = 'Case;Child;Foot;Age;Start;End;Why;Name\n';

async function read(cases: string, diary: string) {
  const folder = folderWith({ 'cases.csv': CASES + cases, 'diary.csv': `Case;Day;What;Hours\n${diary}` });
  return readExport(folder, { mapping: readMapping(MAPPING) });
}

describe('reading through a mapping', () => {
  it('names problems by the file, line, column and text of the clinic', async () => {
    const records = await read(
      'E1;I1;L;10;01.02.2025;31.01.2025;done;Ann\nE2;I2;M;10;01.02.2025;;;Bea\nE3;I3;R;x;31.02.2025;;;Cea\nE4;I4;R;10;01.02.2025;;;Dea\n',
      'E4;02.02.2025;worn;23,5\nE4;03.02.2025;worn;23.5\nE4;04.02.2025;phoned;\nE9;05.02.2025;worn;1\nE4;1.1.2025;worn;25,5\nE4;02.02.2025;worn;k. A.\n',
    );
    expect(
      records.problems.filter(({ kind }) => kind !== 'missing-table').map(({ message }) => message),
    ).toEqual([
      'cases.csv, line 3: Foot "M" is not an allowed word; allowed: L, R, or in the words of the dictionary left, right',
      'cases.csv, line 4: Age "x" is not a whole number; allowed: a whole number from 0 to 1500',
      'cases.csv, line 4: Start "31.02.2025" is not a date; allowed: a date of the calendar, written day, month, year',
      'cases.csv, line 2: End "31.01.2025" is before the start; allowed: a date from 2025-02-01, the start_date of the row',
      'diary.csv, line 3: Hours "23.5" is not a number; allowed: a number from 0 to 24, with a decimal comma',
      'diary.csv, line 6: Hours "25,5" is not within the 24 hours of a day; allowed: a number from 0 to 24',
      'diary.csv, line 7: Hours is blank; allowed: a number from 0 to 24, with a decimal comma',
      'diary.csv, line 5: Case "E9" is not in episodes.csv; allowed: an episode_id of an accepted row of episodes.csv',
    ]);
    expect(records.counts.wear).toMatchObject({ read: 5, accepted: 1, refused: 4 });
    expect(records.sources).toMatchObject([
      { file: 'cases.csv', rows: 4, unused: 0, header: [1, 1] },
      { file: 'diary.csv', rows: 6, unused: 1 },
    ]);
    expect([...(records.sources?.[1]?.refusedLines ?? [])]).toEqual([3, 3, 5, 5, 6, 6, 7, 7]);
  });

  it('says which rows contradict one another by their own lines', async () => {
    const records = await read('E1;I1;L;10;01.02.2025;;;\n\nE1;I1;L;10;01.02.2025;;;\n', '');
    expect(records.problems.map(({ message }) => message)).toContain(
      'cases.csv, line 4: Case is the same as on line 2; allowed: one row for each',
    );
  });

  it('refuses the rows of a table whose columns are not there, and rows of another width', async () => {
    const records = await read('E1;I1;L;10;01.02.2025;;;\nE2;I2\n', '');
    expect(records.problems.map(({ message }) => message)).toContain(
      'cases.csv, line 3: the row has 2 cells, the header has 8; allowed: as many cells as the header has',
    );
    const folder = folderWith({
      'cases.csv': `${CASES}E1;I1;L;10;01.02.2025;;;\n`,
      'diary.csv': 'Case;Day;What;Stunden;Mail\nE1;02.02.2025;worn;3;a@b.org\n',
    });
    const other = await readExport(folder, { mapping: readMapping(MAPPING) });
    expect(other.problems.map(({ message }) => message)).toEqual(
      expect.arrayContaining([
        'diary.csv, line 1: Hours is missing from the header, so every row is refused; allowed: one column of that name',
        'diary.csv, line 1: Mail looks by its header like a column of e-mail addresses, so it was not read; allowed: no column that identifies a person or holds free text',
      ]),
    );
    expect(other.counts.wear).toMatchObject({ read: 1, accepted: 0, refused: 1 });
  });

  it('refuses files that are not there, and links', async () => {
    const folder = folderWith({ 'cases.csv': CASES });
    await expect(readExport(folder, { mapping: readMapping(MAPPING) })).rejects.toThrow(
      'diary.csv: is not in the export; allowed: the files that the mapping names',
    );
  });

  it('does not take codes from a column of names, unless it is told to', async () => {
    const text = MAPPING.replace('infant_id: Child', 'infant_id: Name');
    const folder = folderWith({ 'cases.csv': CASES, 'diary.csv': 'Case;Day;What;Hours\n' });
    await expect(readExport(folder, { mapping: readMapping(text) })).rejects.toThrow(
      'mapping: episodes.infant_id comes from the column "Name", whose header looks like one of a name; allowed: a pseudonymous code, or notIdentifying: true if it is one',
    );
  });
});

describe('a mapping in YAML', () => {
  const without = (text: string): string => MAPPING.replace('sources:', `${text}\nsources:`);

  it.each([
    ['nothing', 'version: 1', 'mapping.yaml: sources: Invalid input: expected record, received undefined'],
    ['a path', MAPPING.replace('cases.csv', '../cases.csv'), 'sources.cases.file'],
    ['a field that there is not', MAPPING.replace('infant_id:', 'infant:'), 'Unrecognized key: "infant"'],
    [
      'a source that there is not',
      MAPPING.replace('from: diary', 'from: dairy'),
      'tables.wear: there is no source "dairy"; allowed: cases, diary',
    ],
    ['an alias', `${MAPPING}notes: [&a x, *a]`, 'is not YAML'],
    [
      'a question left open',
      without('unsettled: [{where: cases (dates), question: which order}]'),
      'mapping.yaml: unsettled: cases (dates): which order',
    ],
  ])('is refused with %s', (_, text, message) => {
    expect(() => readMapping(text)).toThrow(MappingError);
    expect(() => readMapping(text)).toThrow(message);
  });

  it('repeats blocks for every combination, and not without end', () => {
    const blocks = repeated({
      from: 'x',
      repeat: { side: ['L', 'R'], n: ['1', '2'] },
      unlessBlank: ['{side}{n} {other}'],
    });
    expect(blocks.map(({ unlessBlank }) => unlessBlank)).toEqual([
      ['L1 {other}'],
      ['L2 {other}'],
      ['R1 {other}'],
      ['R2 {other}'],
    ]);
    const many = Array.from({ length: 100 }, (_, i) => String(i));
    expect(() => repeated({ from: 'x', repeat: { a: many, b: many } })).toThrow(RangeError);
  });
});

describe('dates as clinics write them', () => {
  it.each([
    ['03/04/2026', 'day-month-year', '2026-04-03'],
    ['03/04/2026', 'month-day-year', '2026-03-04'],
    ['3. 4. 26', 'day-month-year', '2026-04-03'],
    ['31-12-99', 'day-month-year', '1999-12-31'],
    ['2026-04-03 00:00:00', 'year-month-day', '2026-04-03'],
    ['13/13/2026', 'day-month-year', undefined],
    ['03/04-2026', 'day-month-year', undefined],
    ['2026-04-03', 'day-month-year', undefined],
    ['', 'day-month-year', undefined],
  ] as const)('%j, %s', (text, order, iso) => {
    expect(isoDateFrom(text, order)).toBe(iso);
  });

  it('are counted on by days', () => {
    expect(['1 - 1', '0-1', '1 + 1'].map(days => plusDays('2024-03-01', days))).toEqual([
      '2024-03-01',
      '2024-02-29',
      '2024-03-03',
    ]);
    expect([plusDays('2024-03-01', '1 -'), plusDays('2024-03-01', '1 * 2')]).toEqual([undefined, undefined]);
    expect([plusDays('2024-02-28', '2'), plusDays('x', '2'), plusDays('2024-02-28', 'two')]).toEqual([
      '2024-03-01',
      undefined,
      undefined,
    ]);
  });
});
