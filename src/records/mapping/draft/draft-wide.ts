import { DICTIONARY } from '../../dictionary.ts';
import type { Field } from '../../dictionary/field.ts';
import { plainWords } from '../../privacy/plain-words.ts';
import { SYNONYMS } from '../../privacy/synonyms.ts';
import { shownColumn } from '../../reading/header.ts';
import type { TableName } from '../../records.ts';
import { TABLE_NAMES } from '../../records.ts';
import type { DraftedSource, Question, SampledSource } from './draft-source.ts';
import { noAge, notUsed } from './draft-notes.ts';
import { draftFields } from './draft-fields.ts';
import { FIELD_WORDS, GROUP_WORDS } from './field-words.ts';
import { splitFields } from './split-columns.ts';
import { numberRange, type WideColumn, wideColumns } from './wide-columns.ts';

/** Columns that repeat, before a file is taken for a wide one. */
const FEWEST_REPEATED = 2;

interface Found {
  readonly field: Field;
  readonly column: WideColumn;
}

/** What becomes one block of a table. */
interface Group {
  readonly table: TableName;
  readonly found: Found[];
}

/** Hours of several sources are rows of their own. */
function groupOf(table: TableName, { words }: WideColumn): string {
  return table === 'wear' ? `${table} ${sourceIn(words) ?? ''}` : table;
}

/**
 * Drafts the blocks of a file in which a row holds what repeats side by side: both feet, or visits, phases, events and
 * days in columns of their own. Undefined if nothing repeats under words that are known.
 */
export function draftWide(source: SampledSource): DraftedSource | undefined {
  const columns = wideColumns(source.header);
  const groups = new Map<string, Group>();
  const strange: WideColumn[] = [];
  for (const column of columns) {
    const place = column.numbers === undefined ? inEpisodes(column) : inRepeated(column);
    const known = place === undefined ? undefined : groups.get(groupOf(place.table, column));
    if (place === undefined || known?.found.some(({ field }) => field === place.field) === true) {
      strange.push(column);
      continue;
    }
    const { table, field } = place;
    const one = { field, column };
    if (known === undefined) groups.set(groupOf(table, column), { table, found: [one] });
    else known.found.push(one);
  }
  const all = [...groups.values()];
  const repeating = all.flatMap(({ found }) => found).filter(({ column }) => column.numbers ?? column.sides);
  if (repeating.length < FEWEST_REPEATED) return undefined;

  const sides = columns.find(column => column.sides !== undefined)?.sides;
  const entries = all.flatMap(({ table, found }) =>
    found.map(({ field, column }) => ({
      table,
      field,
      column: column.template,
      values: merged(source, column),
    })),
  );
  const { fields, writing, unsettled, notes } = draftFields(source.name, entries);
  const specOf = ({ field, column }: Found): Spec =>
    fields.find(drafted => drafted.field === field && drafted.column === column.template)?.spec ??
    column.template;
  const episodes = groups.get('episodes')?.found ?? [];
  const split = splitFields(source, 'episodes', takenIn(columns, episodes, strange));
  const unused = strange.filter(
    ({ places }) => !split.some(one => one.places.some(at => places.includes(at))),
  );
  notes.push(...split.map(({ note }) => note));
  const episode = episodeCode(episodes, sides);
  const start =
    episodes.filter(({ field }) => field.name === 'start_date').map(specOf)[0] ??
    split.find(({ field }) => field.name === 'start_date')?.spec;
  const questions: Question[] = [...unsettled];
  const inTables = all.sort((a, b) => TABLE_NAMES.indexOf(a.table) - TABLE_NAMES.indexOf(b.table));
  const blocks = inTables.map(({ table, found }) => {
    const drafted = Object.fromEntries(found.map(one => [one.field.name, specOf(one)] as const));
    const { extra, asked } = beyondColumns(table, found, episode, sides, start);
    for (const question of asked) questions.push({ where: `${source.name} (${table})`, question });
    const specs: Readonly<Record<string, Spec>> = {
      ...extra,
      ...drafted,
      ...(table === 'episodes' ? Object.fromEntries(split.map(one => [one.field.name, one.spec])) : {}),
      ...(episode === undefined ? {} : { episode_id: episode.spec }),
    };
    for (const field of DICTIONARY[table].fields) {
      if (!field.required || specs[field.name] !== undefined) continue;
      const question = `which columns, or which constant value, are ${field.name}: ${field.meaning}`;
      questions.push({ where: `${source.name} (${table})`, question });
    }
    if (table === 'episodes') questions.push(...noAge(source.name, specs));
    return {
      table,
      block: { ...repetition(found, sides, table === 'episodes' ? all : []), fields: inOrder(table, specs) },
    };
  });
  notes.push(...notUsed(source.name, unused));
  for (const { template, numbers, places } of unused) {
    if (numbers === undefined) continue;
    const question = `what are the ${places.length} columns like "${shownColumn(template)}" (n from ${numbers[0]} to ${numbers[numbers.length - 1]}), or are they not needed`;
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

/** Fields that no column of the block holds by itself. */
function beyondColumns(
  table: TableName,
  own: readonly Found[],
  episode: ReturnType<typeof episodeCode>,
  sides: WideColumn['sides'],
  start: Spec | undefined,
): { readonly extra: Readonly<Record<string, Spec>>; readonly asked: readonly string[] } {
  const extra: Record<string, Spec> = {};
  const asked: string[] = [];
  if (table === 'episodes') {
    if (episode?.made === true) {
      asked.push(
        'no column holds a code for each foot; may it be the code of the infant and the side, as drafted',
      );
    }
    const treated = own.some(
      ({ field, column }) => column.sides !== undefined && ['episode_id', 'start_date'].includes(field.name),
    );
    if (sides !== undefined && !treated) {
      asked.push(
        'no column says which feet were treated; is it those that have something in one of the columns under unlessBlank, as drafted',
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
      extra.date = { ...(typeof start === 'string' ? { column: start } : start), plusDays: '{n}' };
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
function repetition(
  own: readonly Found[],
  sides: WideColumn['sides'],
  groups: readonly Group[],
): Readonly<Record<string, unknown>> {
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
  // The first of what is counted tells of a foot as well.
  const firsts = groups
    .filter(({ table }) => table === 'assessments' || table === 'phases')
    .flatMap(({ found }) => found)
    .filter(({ column }) => sides !== undefined && column.sides !== undefined)
    .map(({ column }) => column.template.replaceAll('{n}', column.numbers?.[0] ?? ''));
  const unlessBlank = [...telling.map(({ column }) => column.template), ...firsts];
  return {
    ...(Object.keys(repeat).length === 0 ? {} : { repeat }),
    ...(unlessBlank.length === 0 ? {} : { unlessBlank }),
  };
}

/** Places of an episode's fields, and of every other column but those that nothing was made of. */
function takenIn(
  columns: readonly WideColumn[],
  episodes: readonly Found[],
  strange: readonly WideColumn[],
): ReadonlyMap<string, number> {
  const left = new Set(strange);
  const others = columns.filter(column => !left.has(column)).flatMap(({ places }) => places);
  const taken = new Map(others.map(place => [`column ${place}`, place]));
  for (const { field, column } of episodes) taken.set(field.name, column.places[0] ?? 0);
  return taken;
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
