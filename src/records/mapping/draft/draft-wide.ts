import { DICTIONARY } from '../../dictionary.ts';
import type { Field } from '../../dictionary/field.ts';
import { plainWords } from '../../privacy/plain-words.ts';
import { SYNONYMS } from '../../privacy/synonyms.ts';
import type { TableName } from '../../records.ts';
import { TABLE_NAMES } from '../../records.ts';
import type { DraftedSource, Question, SampledSource } from './draft-source.ts';
import { type DraftedField, draftFields } from './draft-fields.ts';
import { FIELD_WORDS, GROUP_WORDS } from './field-words.ts';
import { numberRange, type WideColumn, wideColumns } from './wide-columns.ts';

/** Columns that repeat, before a file is taken for a wide one. */
const FEWEST_REPEATED = 2;

interface Found {
  readonly field: Field;
  readonly column: WideColumn;
}

/**
 * Drafts the blocks of a file in which a row holds what repeats side by side: both feet, or visits, phases, events and
 * days in columns of their own. Undefined if nothing repeats under words that are known.
 */
export function draftWide(source: SampledSource): DraftedSource | undefined {
  const columns = wideColumns(source.header);
  const found = new Map<TableName, Found[]>();
  const strange: WideColumn[] = [];
  for (const column of columns) {
    const place = column.numbers === undefined ? inEpisodes(column) : inRepeated(column);
    if (place === undefined) strange.push(column);
    else if (found.get(place.table)?.some(({ field }) => field === place.field) === true)
      strange.push(column);
    else found.set(place.table, [...(found.get(place.table) ?? []), { field: place.field, column }]);
  }
  const repeating = [...found.values()].flat().filter(({ column }) => column.numbers ?? column.sides);
  if (repeating.length < FEWEST_REPEATED) return undefined;

  const sides = columns.find(column => column.sides !== undefined)?.sides;
  const episode = episodeCode(found.get('episodes') ?? [], sides);
  const tables = TABLE_NAMES.filter(table => found.has(table));
  const entries = tables.flatMap(table =>
    (found.get(table) ?? []).map(({ field, column }) => ({
      table,
      field,
      column: column.template,
      values: merged(source, column),
    })),
  );
  const { fields, writing, unsettled, notes } = draftFields(source.name, entries);
  const questions: Question[] = [...unsettled];
  const blocks = tables.map(table => {
    const own = found.get(table) ?? [];
    const drafted = Object.fromEntries(
      fields.filter(entry => entry.table === table).map(({ field, spec }) => [field.name, spec] as const),
    );
    const { extra, asked } = beyondColumns(table, own, episode, sides, startOf(found, fields));
    for (const question of asked) questions.push({ where: `${source.name} (${table})`, question });
    const all = { ...extra, ...drafted };
    for (const field of DICTIONARY[table].fields) {
      if (!field.required || all[field.name] !== undefined) continue;
      const question = `which columns, or which constant value, are ${field.name}: ${field.meaning}`;
      questions.push({ where: `${source.name} (${table})`, question });
    }
    return { table, block: { ...repetition(own, sides), fields: inOrder(table, all) } };
  });
  if (strange.length > 0) notes.push(`${source.name}: columns not used: ${namesOf(strange)}`);
  for (const { template, numbers } of strange) {
    if (numbers === undefined) continue;
    const question = `what are the ${numbers.length} columns like "${template}" (n from ${numbers[0]} to ${numbers[numbers.length - 1]}), or are they not needed`;
    questions.push({ where: source.name, question });
  }
  notes.push(
    `${source.name}: a row holds ${sides === undefined ? 'several' : 'both feet and several'} of what repeats; it is read once for each`,
  );
  return { blocks, writing, unsettled: questions, notes };
}

function inEpisodes({ words }: WideColumn): { readonly table: TableName; readonly field: Field } | undefined {
  const field = fieldOf('episodes', words);
  return field === undefined ? undefined : { table: 'episodes', field };
}

/** The table of columns that are counted, by a word of their header, and the field by the rest of it. */
function inRepeated({ words }: WideColumn): { readonly table: TableName; readonly field: Field } | undefined {
  const tokens = words.split(' ').filter(word => word !== '');
  for (const table of TABLE_NAMES) {
    const group = tokens.find(token => GROUP_WORDS[table].includes(token));
    if (group === undefined) continue;
    const rest = tokens.filter(token => token !== group).join(' ');
    const field = fieldOf(table, rest) ?? (table === 'wear' ? fieldNamed('wear', 'hours_worn') : undefined);
    if (field !== undefined) return { table, field };
  }
  return undefined;
}

function fieldOf(table: TableName, words: string): Field | undefined {
  const known = (field: Field): boolean =>
    plainWords(field.name) === words || FIELD_WORDS[table][field.name]?.includes(words) === true;
  return DICTIONARY[table].fields.find(known);
}

const fieldNamed = (table: TableName, name: string): Field | undefined =>
  DICTIONARY[table].fields.find(field => field.name === name);

type Spec = string | Readonly<Record<string, unknown>>;

/** How the code of the episode is got in every block: from a column, or made of the infant and the side. */
function episodeCode(
  episodes: readonly Found[],
  sides: WideColumn['sides'],
): { readonly spec: Spec; readonly made: boolean } | undefined {
  const column = (name: string): WideColumn | undefined =>
    episodes.find(({ field }) => field.name === name)?.column;
  const own = column('episode_id');
  if (own !== undefined && (sides === undefined || own.sides !== undefined)) {
    return { spec: own.template, made: false };
  }
  const base = own ?? column('infant_id');
  if (base === undefined || sides === undefined) return undefined;
  return { spec: { column: base.template, suffix: '-{side}' }, made: true };
}

/** Where the first fitting stands, with how its dates are written. */
function startOf(
  found: ReadonlyMap<TableName, readonly Found[]>,
  fields: readonly DraftedField[],
): Readonly<Record<string, unknown>> | undefined {
  if (!found.has('episodes')) return undefined;
  const spec = fields.find(({ table, field }) => table === 'episodes' && field.name === 'start_date')?.spec;
  return typeof spec === 'string' ? { column: spec } : spec;
}

/** Fields that no column of the block holds by itself. */
function beyondColumns(
  table: TableName,
  own: readonly Found[],
  episode: ReturnType<typeof episodeCode>,
  sides: WideColumn['sides'],
  start: Readonly<Record<string, unknown>> | undefined,
): { readonly extra: Readonly<Record<string, Spec>>; readonly asked: readonly string[] } {
  const extra: Record<string, Spec> = {};
  const asked: string[] = [];
  if (episode !== undefined) extra.episode_id = episode.spec;
  if (table === 'episodes') {
    if (episode?.made === true) {
      asked.push(
        'no column holds a code for each foot; may it be the code of the infant and the side, as drafted',
      );
    }
    if (sides !== undefined && !own.some(({ field }) => field.name === 'foot')) {
      const words = { [sides[0]]: 'left', [sides[1]]: 'right' };
      extra.foot = { value: '{side}', ...(sides[0] === 'left' && sides[1] === 'right' ? {} : { words }) };
    }
  }
  if (table === 'wear') {
    const hours = own.find(({ field }) => field.name === 'hours_worn')?.column;
    if (
      hours?.numbers !== undefined &&
      start !== undefined &&
      !own.some(({ field }) => field.name === 'date')
    ) {
      extra.date = { ...start, plusDays: '{n}' };
      asked.push(
        `is the number in "${hours.template}" the days since the first fitting (0 being that day), as drafted; if 1 is that day, write plusDays: "{n} - 1"`,
      );
    }
    const source = sourceIn(hours?.words ?? '');
    if (source !== undefined) extra.source = { value: source };
  }
  return { extra, asked };
}

/** The source of hours that a header names. */
function sourceIn(words: string): string | undefined {
  const tokens = words.split(' ');
  return ['sensor', 'diary', 'recall'].find(source => SYNONYMS[source]?.some(word => tokens.includes(word)));
}

/** What a block repeats, and when a row is none. */
function repetition(own: readonly Found[], sides: WideColumn['sides']): Readonly<Record<string, unknown>> {
  const numbers = own.find(({ column }) => column.numbers !== undefined)?.column.numbers;
  const repeat = {
    ...(sides === undefined ? {} : { side: [...sides] }),
    ...(numbers === undefined ? {} : { n: numberRange(numbers) }),
  };
  // What stands there once for both feet says nothing of one of them.
  const telling = own.filter(
    ({ column }) =>
      (sides === undefined || column.sides !== undefined) &&
      (numbers === undefined || column.numbers !== undefined),
  );
  const unlessBlank = telling.map(({ column }) => column.template);
  return {
    ...(Object.keys(repeat).length === 0 ? {} : { repeat }),
    ...(unlessBlank.length === 0 ? {} : { unlessBlank }),
  };
}

function inOrder(table: TableName, fields: Readonly<Record<string, Spec>>): Readonly<Record<string, Spec>> {
  return Object.fromEntries(
    DICTIONARY[table].fields.flatMap(({ name }) => {
      const spec = fields[name];
      return spec === undefined ? [] : [[name, spec] as const];
    }),
  );
}

function merged({ values }: SampledSource, { places }: WideColumn): ReadonlyMap<string, number> {
  const all = new Map<string, number>();
  for (const place of places) {
    for (const [text, times] of values[place] ?? []) all.set(text, (all.get(text) ?? 0) + times);
  }
  return all;
}

const MOST_NAMED = 30;

export function namesOf(columns: readonly Pick<WideColumn, 'template'>[]): string {
  const names = columns.slice(0, MOST_NAMED).map(({ template }) => template);
  const more = columns.length - names.length;
  return `${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}
