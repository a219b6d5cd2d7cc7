import { writeXlsx } from 'hucre/xlsx';
import { allowedIn } from '../dictionary.ts';
import type { TableName } from '../records.ts';
import type { Field, Table } from './field.ts';

/** Rows of a sheet for which the allowed words can be chosen. */
const ROWS_TO_FILL = 2000;
/** Longest list of words that a workbook can hold in a cell's rule. */
const LONGEST_LIST = 255;

/**
 * An empty workbook to fill in: a sheet for each table with its columns, in which the words of a category can be chosen
 * from a list, and a sheet that says what every column is. The bytes hold the time of their making.
 */
export async function templateWorkbook(dictionary: Readonly<Record<TableName, Table>>): Promise<Uint8Array> {
  const tables = Object.values(dictionary);
  return writeXlsx({
    sheets: [
      ...tables.map(table => ({
        name: table.name,
        columns: table.fields.map(field => ({ header: field.name, key: field.name, width: 20 })),
        rows: [table.fields.map(field => field.name)],
        dataValidations: table.fields.flatMap(listOf),
        freezePane: { rows: 1 },
      })),
      {
        name: 'what the columns are',
        rows: [
          ['sheet', 'column', 'needed', 'allowed', 'meaning'],
          ...tables.flatMap(table =>
            table.fields.map(field => [
              table.name,
              field.name,
              neededIn(field),
              allowedIn(field),
              field.meaning,
            ]),
          ),
        ],
      },
    ],
  });
}

function neededIn(field: Field): string {
  if (field.required) return 'yes';
  return field.neededWhen === undefined ? 'no' : `when ${field.neededWhen}`;
}

function listOf(field: Field, column: number) {
  const values =
    field.type === 'category'
      ? field.categories.map(({ value }) => value)
      : field.type === 'yes/no'
        ? ['yes', 'no']
        : [];
  if (values.length === 0 || values.join(',').length > LONGEST_LIST) return [];
  const letter = String.fromCharCode(65 + column);
  return [{ type: 'list' as const, values, allowBlank: true, range: `${letter}2:${letter}${ROWS_TO_FILL}` }];
}
