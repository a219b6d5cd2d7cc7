import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import formats from 'ajv-formats';
import { readXlsx, writeXlsx } from 'hucre/xlsx';
import { describe, expect, it } from 'vitest';
import { draftFolder } from '../../src/records/files/draft-folder.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { DICTIONARY } from '../../src/records/dictionary.ts';
import { dataPackage } from '../../src/records/dictionary/data-package.ts';
import { dictionaryText } from '../../src/records/dictionary/dictionary-text.ts';
import { templateWorkbook } from '../../src/records/dictionary/template-workbook.ts';
import { readMapping } from '../../src/records/mapping/read-mapping.ts';
import { TABLE_NAMES } from '../../src/records/records.ts';
import { runCommand } from '../cli/run-command.ts';
import { folderWith } from './files/folder.ts';

const schema = JSON.parse(
  readFileSync(new URL('../reference/data-package/data-package.json', import.meta.url), 'utf8'),
) as object;
const ajv = new Ajv({ allErrors: true, strict: false });
formats.default(ajv);
const validate = ajv.compile(schema);

describe('the dictionary as a Data Package 2.0', () => {
  it('is what the profiles of the standard ask for', () => {
    expect([validate(dataPackage(DICTIONARY)), validate.errors]).toEqual([true, null]);
  });

  it('so are the packages of the committed sample', () => {
    for (const path of ['datapackage.json', 'with-problems/datapackage.json']) {
      const text = readFileSync(new URL(`../../synthetic-data/${path}`, import.meta.url), 'utf8');
      expect([validate(JSON.parse(text)), validate.errors]).toEqual([true, null]);
    }
  });

  const refused: readonly (readonly [string, () => unknown])[] = [
    ['without resources', () => ({})],
    ['a field of no known type', () => replaced('"type":"boolean"', '"type":"yes/no"')],
    [
      'a constraint that its type has not',
      () => replaced('"constraints":{"required":true,"pattern"', '"constraints":{"maximum":1,"pattern"'),
    ],
    ['one word for how fields match', () => replaced('["partial"]', '"partial"')],
    [
      'a limit of a whole number that is not one',
      () =>
        replaced(
          '"type":"integer","constraints":{',
          '"type":"integer","constraints":{"exclusiveMinimum":1.5,',
        ),
    ],
    [
      'a property that the dictionary does not use, as the profiles would ask for its type',
      () => replaced('"type":"date"', '"type":"date","rdfType":1'),
    ],
    ['data in the package beside a path', () => replaced('"path":"wear.csv"', '"path":"wear.csv","data":[]')],
    [
      'a key twice',
      () => replaced('"primaryKey":["episode_id"]', '"primaryKey":["episode_id","episode_id"]'),
    ],
    ...['../wear.csv', 'a/../wear.csv', 'file:wear.csv', 'a://wear.csv', 'a..csv', 'wear\n.csv'].map(
      path =>
        [
          `a path that is not the plain name of a file: ${path}`,
          () => replaced('"path":"wear.csv"', `"path":${JSON.stringify(path)}`),
        ] as const,
    ),
    [
      'yes twice among the values of a yes/no field',
      () => replaced('"falseValues":["no"]', '"falseValues":["no"],"constraints":{"enum":[true,true]}'),
    ],
  ];

  it.each(refused)('which is not met %s', (_, make) => {
    expect(validate(make())).toBe(false);
  });
});

function replaced(from: string, to: string): unknown {
  const text = JSON.stringify(dataPackage(DICTIONARY));
  expect(text).toContain(from);
  return JSON.parse(text.replaceAll(from, to)) as unknown;
}

describe('docs/dictionary.md', () => {
  it('is made from the dictionary: run scripts/make-dictionary-page.ts after a change', () => {
    const page = readFileSync(new URL('../../docs/dictionary.md', import.meta.url), 'utf8');
    expect(page).toBe(dictionaryText(DICTIONARY));
  });
});

describe('the workbook to fill in', () => {
  it('has a sheet for each table with every column, and one that explains them', async () => {
    const { sheets } = await readXlsx(await templateWorkbook(DICTIONARY));
    expect(sheets.map(({ name }) => name)).toEqual([...TABLE_NAMES, 'what the columns are']);
    for (const [i, table] of TABLE_NAMES.entries()) {
      expect(sheets[i]?.rows).toEqual([DICTIONARY[table].fields.map(field => field.name)]);
    }
    const fields = TABLE_NAMES.flatMap(table => DICTIONARY[table].fields);
    expect(sheets.at(-1)?.rows).toHaveLength(fields.length + 1);
  });

  it('is written by the command, never over a file, and is read as it is once rows are in it', async () => {
    const out = join(folderWith({}), 'clinic.xlsx');
    const ran = await runCommand('dictionary', '--format', 'workbook', '--out', out);
    expect([ran.code, ran.out]).toEqual([0, `Workbook: ${out}\n`]);
    const again = await runCommand('dictionary', '--format', 'workbook', '--out', out);
    expect(again.log).toBe(`forefoot: ${out} cannot be made (EEXIST); allowed: a new file\n`);
    expect((await runCommand('dictionary', '--format', 'workbook')).log).toContain('--out is missing');
    const { sheets } = await readXlsx(readFileSync(out));
    const filled = sheets.map(({ name, rows }) => ({ name, rows: [...rows] }));
    const header = filled[0]?.rows[0] ?? [];
    const values = { episode_id: 'E1', infant_id: 'I1', site_id: 'N', foot: 'left', age_at_start_days: 60 };
    const row = { ...values, start_date: new Date('2025-02-10T00:00:00Z') } as Record<
      string,
      string | number | Date
    >;
    filled[0]?.rows.push(header.map(name => row[String(name)] ?? null));
    const folder = folderWith({ 'clinic.xlsx': await writeXlsx({ sheets: filled }) });
    const draft = await draftFolder(folder);
    expect(draft.unsettled).toEqual([]);
    const records = await readExport(folder, { mapping: readMapping(draft.text) });
    expect(records.counts.episodes).toMatchObject({ read: 1, accepted: 1 });
  });
});
