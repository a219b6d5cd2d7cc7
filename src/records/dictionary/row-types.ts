import type { TableName } from '../records.ts';
import type { Field, Table } from './field.ts';

const HEAD = `// Made from the dictionary by scripts/make-row-types.ts; change the dictionary, not this file.
// The rows of the five tables as the rest of the toolkit reads them. Field names are the dictionary's; a date is a
// whole number of days since 1970-01-01; a missing value is undefined.

export type { WearColumns } from './wear-columns.ts';
`;

const LINE_WIDTH = 110;

/** The source text of rows.ts: the type of a row of every table, in the formatting of this repository. */
export function rowTypes(dictionary: Readonly<Record<TableName, Table>>): string {
  const types = Object.values(dictionary).map(
    table => `export interface ${table.rowType} {\n${table.fields.map(fieldLines).join('')}}\n`,
  );
  const sources = dictionary.wear.fields.find(field => field.name === 'source');
  const words = sources?.type === 'category' ? sources.categories.map(({ value }) => quoted(value)) : [];
  types.push(`export const WEAR_SOURCES = [${words.join(', ')}] as const;\n`);
  return [HEAD, ...types].join('\n');
}

function fieldLines(field: Field): string {
  if (field.dropped === true) return '';
  const types = valueTypes(field);
  if (!field.required && field.reckoned !== true) types.push('undefined');
  const comment = `  /** ${field.meaning}${field.unit === undefined ? '' : ` Unit: ${field.unit}.`} */\n`;
  const line = `  readonly ${field.name}: ${types.join(' | ')};\n`;
  if (line.length - 1 <= LINE_WIDTH) return comment + line;
  return `${comment}  readonly ${field.name}:\n${types.map(type => `    | ${type}`).join('\n')};\n`;
}

function valueTypes(field: Field): string[] {
  switch (field.type) {
    case 'code':
      return ['string'];
    case 'yes/no':
      return ['boolean'];
    case 'category':
      return field.categories.map(category => quoted(category.value));
    default:
      return ['number'];
  }
}

function quoted(word: string): string {
  return `'${word}'`;
}
