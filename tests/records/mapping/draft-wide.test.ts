import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { draftFolder } from '../../../src/records/files/draft-folder.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { wideColumns } from '../../../src/records/mapping/draft/wide-columns.ts';
import { readMapping } from '../../../src/records/mapping/read-mapping.ts';
import { TABLE_NAMES } from '../../../src/records/records.ts';
import { folderWith } from '../files/folder.ts';

const clinic = (name: string): string =>
  fileURLToPath(new URL(`../../reference/clinics/${name}`, import.meta.url));

/** A draft with every question taken off the list: what was drafted stays. */
const settled = (text: string): string => text.replace(/^unsettled:\n( .*\n)*/m, '');
const asked = (draft: {
  readonly unsettled: readonly { readonly where: string; readonly question: string }[];
}) => draft.unsettled.map(({ where, question }) => `${where}: ${question}`);

describe('columns that repeat', () => {
  it('are those whose headers differ in the side or a number alone', () => {
    const header = [
      'Infant',
      'left visit 1 date',
      'left visit 2 date',
      'right visit 1 date',
      'right visit 2 date',
    ];
    expect(wideColumns([...header, 'left', 'Line4', 'L.'])).toEqual([
      { template: 'Infant', sides: undefined, numbers: undefined, places: [0], words: 'infant' },
      {
        template: '{side} visit {n} date',
        sides: ['left', 'right'],
        numbers: ['1', '2'],
        places: [1, 2, 3, 4],
        words: 'visit date',
      },
      // No other side, no other number: these are headers like any other.
      { template: 'left', sides: undefined, numbers: undefined, places: [5], words: 'left' },
      { template: 'Line4', sides: undefined, numbers: undefined, places: [6], words: 'line4' },
      { template: 'L.', sides: undefined, numbers: undefined, places: [7], words: 'l' },
    ]);
  });
});

describe('the draft of a file with one row an infant', () => {
  it('asks only what day the days are counted from, and gives the same rows as the canonical clinic', async () => {
    const draft = await draftFolder(clinic('one-wide-file'));
    expect(draft.unsettled.map(({ question }) => question)).toEqual([
      'is the number in "{side} sensor {n}" the days since the first fitting (0 being that day), as drafted; if 1 is that day, write plusDays: "{n} - 1"',
      'is the number in "{side} diary {n}" the days since the first fitting (0 being that day), as drafted; if 1 is that day, write plusDays: "{n} - 1"',
    ]);
    expect(() => readMapping(draft.text)).toThrow('unsettled: register (wear)');
    const [drafted, canonical] = [
      await readExport(clinic('one-wide-file'), { mapping: readMapping(settled(draft.text)) }),
      await readExport(clinic('canonical')),
    ];
    expect(drafted.problems).toEqual([]);
    for (const table of TABLE_NAMES) {
      const rows = (records: typeof drafted) =>
        (records.tables[table].objects() as readonly object[]).map(row => JSON.stringify(row)).sort();
      expect(rows(drafted)).toEqual(rows(canonical));
    }
  });

  it('finds the header below a title, puts a date together, and makes the code of the infant and the side', async () => {
    const folder = folderWith({
      'Registro.csv': [
        'Registro de férulas;;;;;;;;;;;',
        'Niño;Sede;Edad (días);Inicio día;Inicio mes;Inicio año;Fin izq;Fin der;Motivo izq;Motivo der;Visita 1 fecha;Visita 1 tipo;Visita 1 línea izq;Visita 1 línea der;Visita 2 fecha;Visita 2 tipo;Visita 2 línea izq;Visita 2 línea der;Observaciones',
        'N1;Norte;60;14;1;2024;05/05/2024;;yeso;;14/01/2024;inicial;4,5;4;11/02/2024;control;4;3,5;llama la madre',
        'N2;Sur;61;2;2;2024;;;;;02/02/2024;inicial;;4,5;13/03/2024;control;;4;',
      ].join('\r\n'),
    });
    const draft = await draftFolder(folder);
    expect(asked(draft)).toEqual([
      'registro (episodes): no column holds a code for each foot; may it be the code of the infant and the side, as drafted',
      'registro (episodes): no column says which feet were treated; is it those that have something in one of the columns under unlessBlank, as drafted',
    ]);
    expect(draft.notes).toEqual(
      expect.arrayContaining([
        'registro: the columns are named on line 2; what stands above is passed over',
        'registro: start_date is put together from Inicio año, Inicio mes, Inicio día',
        'registro: by their headers these may identify a person, and check complains of them; if they are known not to be needed, add ignore: ["Observaciones"] to the source',
      ]),
    );
    expect(parse(draft.text)).toMatchObject({ sources: { registro: { header: 2, decimal: 'comma' } } });
    const records = await readExport(folder, { mapping: readMapping(settled(draft.text)) });
    const rows = records.tables.episodes.objects() as readonly { episode_id: string; foot: string }[];
    expect(rows.map(({ episode_id: code, foot }) => [code, foot])).toEqual([
      ['N1-izq', 'left'],
      ['N1-der', 'right'],
      ['N2-der', 'right'],
    ]);
    expect(records.counts.assessments).toMatchObject({ read: 6, accepted: 6 });
    // Lines are those of the file, the title among them.
    const fault = folderWith({
      'Registro.csv': readFileSync(`${folder}/Registro.csv`, 'utf8').replace('05/05/2024', '31/02/2024'),
    });
    const { problems } = await readExport(fault, { mapping: readMapping(settled(draft.text)) });
    expect(problems.map(({ message }) => message)).toContain(
      'Registro.csv, line 3: Fin izq "31/02/2024" is not a date; allowed: a date of the calendar, written day, month, year',
    );
  });

  it('says which columns that repeat it does not know, and asks for the age', async () => {
    const folder = folderWith({
      'w.csv':
        'Baby,Site,left episode,right episode,left start,right start,left gizmo 1,left gizmo 2,right gizmo 1,right gizmo 2\nI1,N,E1,E2,2024-01-20,2024-01-20,1,2,3,4\n',
    });
    expect(asked(await draftFolder(folder))).toEqual([
      'w (episodes): which column is age_at_start_days (a unit may be given, such as weeks to days), or birth_date; one of them is needed',
      'w: what are the 4 columns like "{side} gizmo {n}" (n from 1 to 2), or are they not needed',
    ]);
  });
});

describe('the draft of split and merged columns', () => {
  it('puts dates together and takes periods, words and units apart where every value fits', async () => {
    const draft = await draftFolder(clinic('split-columns'));
    expect(parse(draft.text)).toMatchObject({
      tables: {
        episodes: [
          {
            fields: {
              birth_date: { join: ['born y', 'born m', 'born d'], with: '-', dates: 'year-month-day' },
              start_date: { join: ['fit y', 'fit m', 'fit d'] },
              foot: { column: 'side and reason', part: 1, by: '/', words: { L: 'left', R: 'right' } },
              end_reason: { column: 'side and reason', part: 2, by: '/' },
            },
          },
        ],
        phases: [
          {
            fields: {
              start_date: { column: 'period', part: 1, by: ' to ' },
              end_date: { column: 'period', part: 2, by: ' to ' },
              prescribed_hours: { column: 'minutes', unit: 'minutes to hours' },
            },
          },
        ],
        events: [{ fields: { kind: { column: 'what', part: 1, by: ' (' }, cause: { part: 2 } } }],
      },
    });
    // What stands in two columns is not known to be one code; what fits two orders is asked.
    const where = new Set(draft.unsettled.map(({ where }) => where));
    expect(where).toContain('episodes (episodes)');
    expect(where).toContain('episodes (dates)');
    expect(asked(draft)).toContain(
      'visits.line: 2 of its 6 texts are no numbers ("lateral to 4th", "between 2nd and 3rd"); how are they to be read as bisector_position (words, unit, part)',
    );
  });

  it('asks about a file with dates that is like no table, and only tells of one without', async () => {
    const draft = await draftFolder(folderWith({ 'x.csv': 'a,b\n2024-01-02,1\n', 'y.csv': 'a,b\nred,1\n' }));
    expect(asked(draft)[0]).toBe(
      'x: no table was recognised in this file, which has dates in it; write a block for it, unless it is not needed (its columns: a, b)',
    );
    expect(draft.notes).toEqual(['y: no table was recognised in this file, so nothing of it is read']);
  });
});
