import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { DICTIONARY, allowedIn } from '../../src/records/dictionary.ts';
import { dataPackage } from '../../src/records/dictionary/data-package.ts';
import { dictionaryText } from '../../src/records/dictionary/dictionary-text.ts';
import { rowTypes } from '../../src/records/dictionary/row-types.ts';
import { TABLE_NAMES } from '../../src/records/records.ts';

interface Resource {
  readonly name: string;
  readonly path: string;
  readonly schema: {
    readonly fields: readonly Readonly<Record<string, unknown>>[];
    readonly primaryKey?: readonly string[];
    readonly uniqueKeys?: readonly (readonly string[])[];
    readonly foreignKeys?: readonly unknown[];
    readonly missingValues: readonly unknown[];
  };
}

const resources = dataPackage(DICTIONARY)['resources'] as unknown as readonly Resource[];

function resource(name: string): Resource {
  const found = resources.find(resource => resource.name === name);
  if (found === undefined) throw new Error(`no resource ${name}`);
  return found;
}

function descriptor(table: string, field: string): Readonly<Record<string, unknown>> | undefined {
  return resource(table).schema.fields.find(({ name }) => name === field);
}

describe('the dictionary', () => {
  it('is what the row types are made from: run scripts/make-row-types.ts after a change', () => {
    const rows = readFileSync(new URL('../../src/records/rows.ts', import.meta.url), 'utf8');
    expect(rows).toBe(rowTypes(DICTIONARY));
  });

  it('names every field once in its table, and every key among them', () => {
    for (const name of TABLE_NAMES) {
      const { fields, key, foreignKeys, file } = DICTIONARY[name];
      const names = fields.map(field => field.name);
      expect(new Set(names).size).toBe(names.length);
      expect(names).toEqual(expect.arrayContaining([...key, ...foreignKeys.flatMap(({ fields }) => fields)]));
      expect(file).toBe(`${name}.csv`);
      for (const field of fields) expect([field.meaning, allowedIn(field)]).not.toContain('');
    }
  });
});

describe('the dictionary as a data package', () => {
  it('has a resource for each file, with keys and labelled missing values', () => {
    expect(resources.map(({ path }) => path)).toEqual(TABLE_NAMES.map(name => `${name}.csv`));
    expect(resource('wear').schema.primaryKey).toEqual(['episode_id', 'date', 'source']);
    expect(resource('assessments').schema).not.toHaveProperty('primaryKey');
    expect(resource('assessments').schema.uniqueKeys).toEqual([['episode_id', 'date', 'assessor_id']]);
    expect(resource('phases').schema.foreignKeys).toEqual([
      { fields: ['episode_id'], reference: { resource: 'episodes', fields: ['episode_id'] } },
    ]);
    expect(resource('episodes').schema.missingValues).toEqual([{ value: '', label: 'not recorded' }]);
  });

  it('describes every type of field', () => {
    expect(descriptor('assessments', 'flexibility')).toMatchObject({
      type: 'string',
      categoriesOrdered: true,
      categories: [{ value: 'past straight' }, { value: 'to straight' }, { value: 'short of straight' }],
    });
    expect(descriptor('phases', 'prescribed_hours')).toEqual({
      name: 'prescribed_hours',
      description: 'Hours of wear prescribed; must be one of the phases of the plan.',
      unit: 'hours a day',
      type: 'number',
      constraints: { required: true, exclusiveMinimum: 0, maximum: 24 },
    });
    expect(descriptor('assessments', 'bisector_position')).toMatchObject({
      type: 'number',
      constraints: { enum: [2, 2.5, 3, 3.5, 4, 4.5, 5] },
    });
    expect(descriptor('episodes', 'teach_back')).toMatchObject({
      type: 'boolean',
      trueValues: ['yes'],
      falseValues: ['no'],
    });
    expect(descriptor('episodes', 'start_date')).toMatchObject({
      type: 'date',
      constraints: { required: true, minimum: '1990-01-01', maximum: '2099-12-31' },
    });
    expect(descriptor('episodes', 'end_reason')).toMatchObject({
      description: 'Why therapy ended; blank while in therapy. Needed when end_date is filled in.',
    });
  });
});

describe('the dictionary as text', () => {
  it('has a table for each file with a line for each field', () => {
    const lines = dictionaryText(DICTIONARY).split('\n');
    expect(lines.filter(line => line.startsWith('## '))).toEqual(TABLE_NAMES.map(name => `## ${name}.csv`));
    const fields = TABLE_NAMES.flatMap(name => DICTIONARY[name].fields);
    expect(lines.filter(line => line.startsWith('| '))).toHaveLength(fields.length + 2 * TABLE_NAMES.length);
    expect(dictionaryText(DICTIONARY)).toContain(
      'One course of therapy of one treated foot. No two rows have the same episode_id.',
    );
    const hours = lines.find(line => line.startsWith('| hours_worn'));
    expect(hours?.split('|').map(cell => cell.trim())).toEqual([
      '',
      'hours_worn',
      'number',
      'hours',
      'yes',
      'a number from 0 to 24',
      'Hours worn on the day; 0 is a day not worn.',
      '',
    ]);
  });
});
