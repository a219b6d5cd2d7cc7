import { describe, expect, it } from 'vitest';
import { DICTIONARY } from '../../src/records/dictionary.ts';
import { TABLE_NAMES } from '../../src/records/records.ts';
import { COLUMNS } from '../../src/synthetic/tables.ts';

describe('columns of an invented export', () => {
  it.each(TABLE_NAMES)('%s has the fields of the dictionary, in its order', table => {
    expect(COLUMNS[table]).toEqual(DICTIONARY[table].fields.map(field => field.name));
  });
});
