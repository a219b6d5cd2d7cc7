import { array, assert, constantFrom, integer, option, property, record, uniqueArray } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultPlan } from '../../src/plan/plan.ts';
import { sha256 } from '../../src/plan/sha256.ts';
import { assessmentRows, episodeRows, phaseRows, wearColumns } from '../../src/records/accessors.ts';
import { daysFromIsoDate, isoDate } from '../../src/records/calendar-date.ts';
import { DICTIONARY } from '../../src/records/dictionary.ts';
import { detectDelimiter, firstLine } from '../../src/records/reading/delimiter.ts';
import { readExportFromText } from '../../src/records/reading/read-text.ts';
import { TABLE_NAMES } from '../../src/records/records.ts';

const day = (text: string): number => daysFromIsoDate(text) ?? Number.NaN;

const EPISODES =
  'episode_id,infant_id,site_id,foot,birth_date,start_date,teach_back\nE1,I1,North,left,2024-12-12,2025-02-10,yes\n';
const E1 = {
  episode_id: 'E1',
  infant_id: 'I1',
  site_id: 'North',
  foot: 'left',
  age_at_start_days: 60,
  start_date: day('2025-02-10'),
  teach_back: true,
};

describe('the separator of a file', () => {
  const columns = new Set(['episode_id', 'date', 'source', 'hours_worn']);

  it.each([
    ['episode_id,date,source,hours_worn', ','],
    ['episode_id;date;"source";hours_worn', ';'],
    ['"episode_id"\tdate\tsource\tnote, long; and odd', '\t'],
    ['episode_id', ','],
    ['', ','],
  ])('is told from the header %j', (header, delimiter) => {
    expect(detectDelimiter(header, columns)).toBe(delimiter);
  });

  it('is looked for in the first line with any text', () => {
    expect(firstLine('\uFEFF\r\n  \r\na;b\r\nc')).toBe('a;b');
  });
});

describe('reading', () => {
  it.each([
    ['comma, LF', EPISODES],
    ['no line end at the end', EPISODES.trimEnd()],
    ['semicolon', EPISODES.replaceAll(',', ';')],
    ['tab', EPISODES.replaceAll(',', '\t')],
    ['CR LF', EPISODES.replaceAll('\n', '\r\n')],
    ['CR', EPISODES.replaceAll('\n', '\r')],
    ['byte order mark', `\uFEFF${EPISODES}`],
    ['byte order mark and quotes', `\uFEFF${EPISODES.replaceAll(/[^,\n]+/g, cell => `"${cell}"`)}`],
    ['spaces round the cells', EPISODES.replaceAll(',', ' , ')],
    ['blank lines and rows of blanks', `\n${EPISODES.replace('\n', '\n\n,,,,,,\n')}\n\n`],
    ['mixed line ends', EPISODES.replace('\n', '\r\n')],
  ])('gives the same row: %s', (_, episodes) => {
    const records = readExportFromText({ episodes });
    expect(episodeRows(records)).toEqual([E1]);
    expect(records.counts.episodes).toMatchObject({ read: 1, accepted: 1, refused: 0 });
  });

  it('turns the birth date into an age and drops it', () => {
    const records = readExportFromText({ episodes: EPISODES });
    expect(records.tables.episodes.columnNames()).toEqual(
      DICTIONARY.episodes.fields.map(({ name }) => name).filter(name => name !== 'birth_date'),
    );
  });

  it('takes columns in any order and keeps out those it does not know', () => {
    const wear = 'batch,hours_worn,source,device,date,episode_id,batch\nx,20,diary,D,2025-02-11,E1,y\n';
    const records = readExportFromText({ episodes: EPISODES, wear });
    expect(records.counts.wear).toEqual({
      file: 'wear.csv',
      read: 1,
      accepted: 1,
      refused: 0,
      sha256: sha256(wear),
      extraColumns: ['batch', 'device'],
    });
    expect(records.tables.wear.columnNames()).toEqual(['episode_id', 'date', 'source', 'hours_worn']);
  });

  it('counts lines by the file, not by the rows, and keeps cells with line breaks together', () => {
    const wear = [
      'episode_id,date,source,hours_worn,batch',
      'E1,2025-02-11,diary,20,"one, ""two""',
      'three"',
      '',
      'E1,2025-02-12,diary,25,"a',
      'b',
      'c"',
      'E1,2025-02-13,diary,26,',
    ].join('\r\n');
    const records = readExportFromText({ episodes: EPISODES, wear });
    const found = records.problems.filter(({ file }) => file === 'wear.csv').map(({ line }) => line);
    expect(found).toEqual([5, 8]);
    expect([...records.refusedLines.wear]).toEqual([5, 7, 8, 8]);
    expect(records.headerLines.wear).toEqual([1, 1]);
  });

  it('reads every type of value', () => {
    const assessments = [
      'episode_id,date,assessor_id,kind,bisector_position,bisector_angle_degrees,flexibility,medial_crease,decision',
      'E1,2025-02-10,A.1,baseline,3.5,-12.5,short of straight,no,start',
      'E1,2025-02-24,,checkup,+3.0,.5,,,',
    ].join('\n');
    expect(assessmentRows(readExportFromText({ episodes: EPISODES, assessments }))).toEqual([
      {
        episode_id: 'E1',
        date: day('2025-02-10'),
        assessor_id: 'A.1',
        kind: 'baseline',
        bisector_position: 3.5,
        bisector_angle_degrees: -12.5,
        flexibility: 'short of straight',
        medial_crease: false,
        decision: 'start',
      },
      {
        episode_id: 'E1',
        date: day('2025-02-24'),
        kind: 'checkup',
        bisector_position: 3,
        bisector_angle_degrees: 0.5,
      },
    ]);
  });

  it('takes the phases of the plan that it is given', () => {
    const phases = 'episode_id,start_date,prescribed_hours\nE1,2025-02-10,20\n';
    const plan = { ...defaultPlan(), phases: { hours: [20] } };
    expect(phaseRows(readExportFromText({ episodes: EPISODES, phases }))).toEqual([]);
    expect(phaseRows(readExportFromText({ episodes: EPISODES, phases }, { plan }))).toEqual([
      { episode_id: 'E1', start_date: day('2025-02-10'), end_date: undefined, prescribed_hours: 20 },
    ]);
  });

  it('takes the cut-off from the description, else from the latest date of an accepted row', () => {
    const wear =
      'episode_id,date,source,hours_worn\nE1,2025-05-01,diary,20\nE1,2025-06-01,guess,20\nE1,2025-04-01,diary,20';
    const records = readExportFromText({ episodes: EPISODES, wear });
    expect([isoDate(records.cutOff), records.cutOffGiven]).toEqual(['2025-05-01', false]);
    const description = 'service: Invented Clinic\ncut_off: 2025-06-30\nexported_at: 2025-07-01T08:30:00Z\n';
    expect(readExportFromText({ episodes: EPISODES, description })).toMatchObject({
      service: 'Invented Clinic',
      cutOff: day('2025-06-30'),
      cutOffGiven: true,
      exportedAt: '2025-07-01T08:30:00Z',
    });
  });

  it('lists in the wear log only the episodes with an accepted row, by first appearance', () => {
    const episodes = `${EPISODES}E2,I1,North,right,2024-12-12,2025-02-10,\nE3,I3,North,left,2024-12-12,2025-02-10,\n`;
    const wear = [
      'episode_id,date,source,hours_worn',
      'E9,2025-02-11,diary,20',
      'E3,2025-02-11,guess,20',
      'E2,2025-02-12,recall,7.25',
      'E1,2025-02-11,sensor,0',
      'E2,2025-02-11,diary,24',
    ].join('\n');
    expect(wearColumns(readExportFromText({ episodes, wear }))).toEqual({
      episodes: ['E2', 'E1'],
      episode: Int32Array.of(0, 1, 0),
      date: Int32Array.of(day('2025-02-12'), day('2025-02-11'), day('2025-02-11')),
      source: Uint8Array.of(2, 0, 1),
      hours: Float64Array.of(7.25, 0, 24),
    });
  });
});

describe('rows written as CSV and read again', () => {
  const start = day('2025-01-01');
  const word = (table: 'assessments', name: string) => {
    const field = DICTIONARY[table].fields.find(field => field.name === name);
    return constantFrom(...(field?.type === 'category' ? field.categories.map(({ value }) => value) : []));
  };
  const missing = { nil: undefined };
  const row = record({
    episode_id: constantFrom('E1', 'E-2', 'e_3.x'),
    date: integer({ min: start, max: start + 400 }),
    assessor_id: option(constantFrom('A1', 'A2'), missing),
    kind: constantFrom('checkup', 'unscheduled', 'follow-up'),
    bisector_position: option(constantFrom(2, 2.5, 3, 3.5, 4, 4.5, 5), missing),
    bisector_angle_degrees: option(
      integer({ min: -300, max: 600 }).map(tenths => tenths / 10),
      missing,
    ),
    flexibility: option(word('assessments', 'flexibility'), missing),
    medial_crease: option(constantFrom(true, false), missing),
    decision: option(word('assessments', 'decision'), missing),
  });
  const rows = uniqueArray(row, {
    maxLength: 30,
    selector: ({ episode_id, date, assessor_id }) => `${episode_id} ${date} ${assessor_id}`,
  });

  it('are the rows they were, whatever separator, line end, quotes and order of columns', () => {
    assert(
      property(
        rows,
        constantFrom(',', ';', '\t'),
        constantFrom('\n', '\r\n', '\r'),
        array(integer({ min: 0, max: 99 }), { minLength: 9, maxLength: 9 }),
        constantFrom('', '\uFEFF'),
        (given, delimiter, lineEnd, order, bom) => {
          const names = DICTIONARY.assessments.fields
            .map(({ name }, k) => ({ name, place: order[k] ?? 0 }))
            .sort((a, b) => a.place - b.place)
            .map(({ name }) => name);
          const cell = (value: unknown, name: string): string => {
            if (value === undefined) return '';
            const text =
              name === 'date'
                ? isoDate(value as number)
                : value === true
                  ? 'yes'
                  : value === false
                    ? 'no'
                    : `${value as string | number}`;
            return (order[0] ?? 0) % 2 === 0 ? `"${text}"` : text;
          };
          const lines = given.map(row =>
            names.map(name => cell(row[name as keyof typeof row], name)).join(delimiter),
          );
          const assessments = bom + [names.join(delimiter), ...lines].join(lineEnd);
          const episodes = `episode_id,infant_id,site_id,foot,age_at_start_days,start_date\n${[
            'E1',
            'E-2',
            'e_3.x',
          ]
            .map((id, k) => `${id},I${k},S,left,50,2025-01-01`)
            .join('\n')}`;
          const records = readExportFromText({ episodes, assessments });
          expect(assessmentRows(records)).toEqual(given);
          expect(records.counts.assessments).toMatchObject({ read: given.length, refused: 0 });
        },
      ),
      { seed: 4, numRuns: 200 },
    );
  });
});

describe('counts', () => {
  it('add up in every file, whatever the text', () => {
    const piece = constantFrom(
      ',',
      ';',
      '\n',
      '\r',
      '"',
      'E1',
      'x',
      '2025-02-11',
      'diary',
      '20',
      ' ',
      '\u0000',
      'é',
    );
    const text = array(piece, { maxLength: 60 }).map(pieces => pieces.join(''));
    assert(
      property(text, text, (rest, more) => {
        const wear = `episode_id,date,source,hours_worn\n${rest}\nE1,2025-02-11,diary,20\n${more}`;
        const records = readExportFromText({ episodes: EPISODES, wear, events: more });
        for (const name of TABLE_NAMES) {
          const { read, accepted, refused } = records.counts[name];
          expect(accepted + refused).toBe(read);
          expect(records.tables[name].numRows()).toBe(accepted);
          expect(records.refusedLines[name]).toHaveLength(2 * refused);
        }
      }),
      { seed: 5, numRuns: 400 },
    );
  });
});
