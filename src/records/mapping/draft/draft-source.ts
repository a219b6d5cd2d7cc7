import { DICTIONARY } from '../../dictionary.ts';
import { plainWords } from '../../privacy/plain-words.ts';
import type { TableName } from '../../records.ts';
import { TABLE_NAMES } from '../../records.ts';
import { isoDateFrom } from '../date-text.ts';
import { DATE_ORDERS } from '../mapping.ts';
import { draftFields, type FieldColumn } from './draft-fields.ts';
import { namesOf, noAge, notUsed } from './draft-notes.ts';
import { draftWide } from './draft-wide.ts';
import { FIELD_WORDS } from './field-words.ts';
import { type SplitField, splitFields } from './split-columns.ts';

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

/** What was found out of a source: blocks for tables, and what could not be settled. */
export interface DraftedSource {
  readonly blocks: readonly DraftedBlock[];
  /** Settings of the source as a whole. */
  readonly writing: Readonly<Record<string, unknown>>;
  readonly unsettled: readonly Question[];
  readonly notes: readonly string[];
}

/** A block of a table as a mapping has it, without its source. */
export interface DraftedBlock {
  readonly table: TableName;
  readonly block: Readonly<Record<string, unknown>>;
}

/** Drafts the part of a mapping that reads one source; nothing that two answers would fit is settled. */
export function draftSource(source: SampledSource): DraftedSource {
  const wide = draftWide(source);
  if (wide !== undefined) return wide;
  const found = tableOf(source);
  if (found === undefined) return unrecognised(source);
  const { table, places, doubts, split } = found;
  const columnOf = (place: number): string => source.header[place]?.trim() ?? '';
  const entries: FieldColumn[] = DICTIONARY[table].fields.flatMap(field => {
    const given = split.find(one => one.field === field);
    const place = places.get(field.name);
    if (given !== undefined) return [{ table, field, column: '', values: new Map(), given: given.spec }];
    if (place === undefined) return [];
    return [{ table, field, column: columnOf(place), values: source.values[place] ?? new Map() }];
  });
  const drafted = draftFields(source.name, entries);
  const unsettled: Question[] = [...doubts, ...drafted.unsettled];
  const notes = [...drafted.notes, ...split.map(({ note }) => note)];
  const used = new Set([...places.values(), ...split.flatMap(one => one.places)]);
  const unused = source.header.flatMap((name, place) =>
    used.has(place) || name.trim() === '' ? [] : [{ template: name.trim() }],
  );
  const fields = Object.fromEntries(drafted.fields.map(({ field, spec }) => [field.name, spec]));
  for (const field of DICTIONARY[table].fields) {
    if (!field.required || fields[field.name] !== undefined) continue;
    unsettled.push({
      where: `${source.name} (${table})`,
      question: `which column, or which constant value, is ${field.name}: ${field.meaning}${unused.length === 0 ? '' : ` Not used yet: ${namesOf(unused)}`}`,
    });
  }
  if (table === 'episodes') unsettled.push(...noAge(source.name, fields));
  notes.push(...notUsed(source.name, unused));
  return { blocks: [{ table, block: { fields } }], writing: drafted.writing, unsettled, notes };
}

/** A file of no table that is known: one with dates in it is asked about, for it may hold rows that would be lost. */
function unrecognised({ name, header, values }: SampledSource): DraftedSource {
  const dated = values.some(
    texts =>
      texts.size > 0 &&
      [...texts.keys()].every(text => DATE_ORDERS.some(order => isoDateFrom(text, order) !== undefined)),
  );
  const none = { blocks: [], writing: {} };
  if (!dated) {
    const note = `${name}: no table was recognised in this file, so nothing of it is read`;
    return { ...none, unsettled: [], notes: [note] };
  }
  const columns = namesOf(header.flatMap(cell => (cell.trim() === '' ? [] : [{ template: cell.trim() }])));
  const question = `no table was recognised in this file, which has dates in it; write a block for it, unless it is not needed (its columns: ${columns})`;
  return { ...none, unsettled: [{ where: name, question }], notes: [] };
}

/** Fields that a table must have to be recognised. */
const FEWEST = 2;

function tableOf(source: SampledSource):
  | {
      readonly table: TableName;
      readonly places: ReadonlyMap<string, number>;
      readonly doubts: readonly Question[];
      readonly split: readonly SplitField[];
    }
  | undefined {
  const ranked = TABLE_NAMES.map(table => {
    const found = placesOf(source, table);
    const split = splitFields(source, table, found.places);
    const places = new Map([...found.places].filter(([name]) => !split.some(one => one.field.name === name)));
    return { table, places, doubts: found.doubts, split };
  })
    .map(found => ({ ...found, score: scoreOf(found.table, found.places, found.split, source) }))
    .sort((a, b) => b.score - a.score);
  const [best, next] = ranked;
  if (best === undefined || best.places.size + best.split.length < FEWEST) return undefined;
  const doubts = [...best.doubts];
  if (next !== undefined && next.score === best.score) {
    doubts.push({ where: source.name, question: `is this the table ${best.table} or ${next.table}` });
  }
  return { table: best.table, places: best.places, doubts, split: best.split };
}

/** Required fields found count twice, those not found against the table; so do columns that it has no use for. */
function scoreOf(
  table: TableName,
  places: ReadonlyMap<string, number>,
  split: readonly SplitField[],
  { header }: SampledSource,
): number {
  const isThere = (name: string): boolean => places.has(name) || split.some(one => one.field.name === name);
  const required = DICTIONARY[table].fields.filter(field => field.required);
  const there = required.filter(field => isThere(field.name)).length;
  const found = places.size + split.length;
  const used = new Set([...places.values(), ...split.flatMap(one => one.places)]).size;
  return 2 * found + 4 * there - 3 * (required.length - there) - (header.length - used);
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
