import { DICTIONARY } from '../../dictionary.ts';
import type { Field } from '../../dictionary/field.ts';
import { plainWords } from '../../privacy/plain-words.ts';
import type { TableName } from '../../records.ts';
import { TABLE_NAMES } from '../../records.ts';
import { draftDates } from './draft-dates.ts';
import { draftNumbers } from './draft-numbers.ts';
import { draftWords } from './draft-words.ts';
import { FIELD_WORDS } from './field-words.ts';

/** A file, or a sheet of one, with the distinct texts of every column. */
export interface SampledSource {
  /** Name of the source in the mapping. */
  readonly name: string;
  readonly header: readonly string[];
  /** Distinct texts of each column and how often each was met, blanks left out. */
  readonly values: readonly ReadonlyMap<string, number>[];
}

export interface Question {
  readonly where: string;
  readonly question: string;
}

/** What was found out of a source: a block for one table, and what could not be settled. */
export interface DraftedSource {
  readonly table: TableName | undefined;
  readonly fields: Readonly<Record<string, unknown>>;
  /** Settings of the source as a whole. */
  readonly writing: Readonly<Record<string, unknown>>;
  readonly unsettled: readonly Question[];
  readonly notes: readonly string[];
}

/** Drafts the part of a mapping that reads one source; nothing that two answers would fit is settled. */
export function draftSource(source: SampledSource): DraftedSource {
  const found = tableOf(source);
  if (found === undefined) {
    const note = `${source.name}: no table was recognised in this file, so nothing of it is read`;
    return { table: undefined, fields: {}, writing: {}, unsettled: [], notes: [note] };
  }
  const { table, places, doubts } = found;
  const unsettled: Question[] = [...doubts];
  const notes: string[] = [];
  const fields: Record<string, unknown> = {};
  const columns = DICTIONARY[table].fields.flatMap(field => {
    const place = places.get(field.name);
    return place === undefined
      ? []
      : [
          {
            field,
            column: source.header[place]?.trim() ?? '',
            values: source.values[place] ?? new Map<string, number>(),
          },
        ];
  });
  const dates = draftDates(
    source.name,
    columns.filter(({ field }) => field.type === 'date'),
  );
  const numbers = draftNumbers(
    source.name,
    columns.filter(({ field }) => isNumber(field)),
  );
  unsettled.push(...dates.unsettled, ...numbers.unsettled);
  notes.push(...dates.notes, ...numbers.notes);
  for (const { field, column, values } of columns) {
    const drafted =
      field.type === 'category' || field.type === 'yes/no'
        ? draftWords(`${source.name}.${column}`, field, values)
        : { words: {}, unsettled: [] };
    unsettled.push(...drafted.unsettled);
    const missing = dates.missing.get(column) ?? numbers.missing.get(column) ?? [];
    fields[field.name] =
      Object.keys(drafted.words).length === 0 && missing.length === 0
        ? column
        : {
            column,
            ...(Object.keys(drafted.words).length === 0 ? {} : { words: drafted.words }),
            ...(missing.length === 0 ? {} : { missing }),
          };
  }
  for (const field of DICTIONARY[table].fields) {
    if (!field.required || places.has(field.name)) continue;
    unsettled.push({
      where: `${source.name} (${table})`,
      question: `which column, or which constant value, is ${field.name}: ${field.meaning}`,
    });
  }
  const unused = source.header
    .map(name => name.trim())
    .filter((name, k) => name !== '' && ![...places.values()].includes(k));
  if (unused.length > 0) notes.push(`${source.name}: columns not used: ${unused.join(', ')}`);
  return { table, fields, writing: { ...dates.writing, ...numbers.writing }, unsettled, notes };
}

const isNumber = ({ type }: Field): boolean => type === 'number' || type === 'integer';

/** Fields that a table must have to be recognised. */
const FEWEST = 2;

function tableOf(source: SampledSource):
  | {
      readonly table: TableName;
      readonly places: ReadonlyMap<string, number>;
      readonly doubts: readonly Question[];
    }
  | undefined {
  const ranked = TABLE_NAMES.map(table => ({ table, ...placesOf(source, table) }))
    .map(found => ({ ...found, score: scoreOf(found.table, found.places, source) }))
    .sort((a, b) => b.score - a.score);
  const [best, next] = ranked;
  if (best === undefined || best.places.size < FEWEST) return undefined;
  const doubts = [...best.doubts];
  if (next !== undefined && next.score === best.score) {
    doubts.push({ where: source.name, question: `is this the table ${best.table} or ${next.table}` });
  }
  return { table: best.table, places: best.places, doubts };
}

/** Required fields found count twice, those not found against the table; so do columns that it has no use for. */
function scoreOf(table: TableName, places: ReadonlyMap<string, number>, { header }: SampledSource): number {
  const required = DICTIONARY[table].fields.filter(field => field.required);
  const there = required.filter(field => places.has(field.name)).length;
  return 2 * places.size + 4 * there - 3 * (required.length - there) - (header.length - places.size);
}

function placesOf(
  { name, header }: SampledSource,
  table: TableName,
): { readonly places: ReadonlyMap<string, number>; readonly doubts: readonly Question[] } {
  const plain = header.map(plainWords);
  const places = new Map<string, number>();
  const doubts: Question[] = [];
  const taken = new Set<number>();
  for (const field of DICTIONARY[table].fields) {
    const known = new Set([plainWords(field.name), ...(FIELD_WORDS[table][field.name] ?? [])]);
    const fits = plain.flatMap((words, k) => (known.has(words) && !taken.has(k) ? [k] : []));
    const [place] = fits;
    if (place === undefined) continue;
    if (fits.length > 1) {
      const columns = fits.map(k => header[k]?.trim() ?? '').join(', ');
      doubts.push({
        where: `${name} (${table})`,
        question: `which of the columns ${columns} is ${field.name}`,
      });
    }
    places.set(field.name, place);
    taken.add(place);
  }
  return { places, doubts };
}
