import { DICTIONARY } from '../../dictionary.ts';
import type { Field } from '../../dictionary/field.ts';
import { plainWords } from '../../privacy/plain-words.ts';
import { SYNONYMS } from '../../privacy/synonyms.ts';
import type { TableName } from '../../records.ts';
import { isoDateFrom } from '../date-text.ts';
import { DATE_ORDERS } from '../mapping.ts';
import type { SampledSource } from './draft-source.ts';
import { FIELD_WORDS } from './field-words.ts';

/** A field that is spread over several columns, or stands in one together with others. */
export interface SplitField {
  readonly field: Field;
  readonly spec: Readonly<Record<string, unknown>>;
  /** Places of the columns that it is made of. */
  readonly places: readonly number[];
  readonly note: string;
}

const PARTS: Readonly<Record<'year' | 'month' | 'day', readonly string[]>> = {
  year: ['y', 'yr', 'year', 'jahr', 'annee', 'ano', 'anno', 'jaar'],
  month: ['m', 'mon', 'month', 'monat', 'mois', 'mes', 'mese', 'maand'],
  day: ['d', 'day', 'tag', 'jour', 'dia', 'giorno', 'dag'],
};

/** Year, month and day in three columns whose headers are alike but for that word, and whose numbers can be nothing else. */
export function splitDates(
  source: SampledSource,
  table: TableName,
  open: readonly Field[],
  free: readonly number[],
): readonly SplitField[] {
  const stems = new Map<string, Partial<Record<keyof typeof PARTS, number>>>();
  for (const place of free) {
    const words = plainWords(source.header[place] ?? '').split(' ');
    for (const [part, known] of Object.entries(PARTS) as [keyof typeof PARTS, readonly string[]][]) {
      const at = words.findIndex(word => known.includes(word));
      if (at === -1) continue;
      const stem = words.filter((_, i) => i !== at).join(' ');
      stems.set(stem, { ...stems.get(stem), [part]: place });
    }
  }
  const dates = open.filter(({ type }) => type === 'date');
  return [...stems].flatMap(([stem, { year, month, day }]) => {
    if (year === undefined || month === undefined || day === undefined) return [];
    const field = dates.find(({ name }) => dateWords(table, name).includes(stem));
    const fits =
      within(source, year, 1990, 2089) && within(source, month, 1, 12) && within(source, day, 1, 31);
    if (field === undefined || !fits) return [];
    const places = [year, month, day];
    const names = places.map(place => source.header[place]?.trim() ?? '');
    return [
      {
        field,
        places,
        spec: { join: names, with: '-', dates: 'year-month-day' },
        note: `${source.name}: ${field.name} is put together from ${names.join(', ')}`,
      },
    ];
  });
}

/** Words before the name of a part: those of the field, and none where it is the only date. */
function dateWords(table: TableName, name: string): readonly string[] {
  const plain = plainWords(name);
  const bare = name === 'date' ? [''] : [];
  return [plain, plain.replace(/ date$/, ''), ...(FIELD_WORDS[table][name] ?? []), ...bare];
}

function within(source: SampledSource, place: number, least: number, most: number): boolean {
  const texts = [...(source.values[place]?.keys() ?? [])];
  return (
    texts.length > 0 &&
    texts.every(text => /^\d{1,4}$/.test(text) && Number(text) >= least && Number(text) <= most)
  );
}

const BETWEEN_DATES = [' to ', ' - ', ' – ', ' bis ', ' au ', ' hasta ', ' al ', ' tot ', '..', ' / '];

/** Start and end in one column: two dates with a text between, the second of which may be missing. */
export function splitPeriod(
  source: SampledSource,
  open: readonly Field[],
  free: readonly number[],
): readonly SplitField[] {
  const fields = ['start_date', 'end_date'].map(name => open.find(field => field.name === name));
  if (fields.some(field => field === undefined)) return [];
  for (const place of free) {
    const texts = [...(source.values[place]?.keys() ?? [])];
    if (texts.length === 0) continue;
    for (const by of BETWEEN_DATES) {
      const orders = DATE_ORDERS.filter(order =>
        texts.every(text => {
          // A blank after the separator is trimmed off where nothing follows it.
          const [from = '', to = '', ...more] = `${text} `.split(by).map(part => part.trim());
          const both = `${text} `.includes(by) && more.length === 0;
          return both && isDate(from, order) && (to === '' || isDate(to, order));
        }),
      );
      const [only, other] = orders;
      if (only === undefined) continue;
      const column = source.header[place]?.trim() ?? '';
      return fields.flatMap((field, k) =>
        field === undefined
          ? []
          : [
              {
                field,
                places: [place],
                spec: { column, part: k + 1, by, ...(other === undefined ? { dates: only } : {}) },
                note: `${source.name}: ${field.name} is part ${k + 1} of ${column}`,
              },
            ],
      );
    }
  }
  return [];
}

const isDate = (text: string, order: (typeof DATE_ORDERS)[number]): boolean =>
  isoDateFrom(text, order) !== undefined;

const BETWEEN_WORDS = [' / ', '/', ' | ', '|', '; ', ';', ' + ', ' - ', ', ', ' ('];

/** Several words in one column: every part of every text must be a word of one field, and of no other. */
export function splitWords(
  source: SampledSource,
  open: readonly Field[],
  free: readonly number[],
): readonly SplitField[] {
  const found: SplitField[] = [];
  for (const place of free) {
    const texts = [...(source.values[place]?.keys() ?? [])];
    if (texts.length === 0) continue;
    for (const by of BETWEEN_WORDS) {
      const rows = texts.map(text => text.split(by).map(part => part.trim()));
      const width = rows[0]?.length ?? 0;
      if (width < 2 || rows.some(row => row.length !== width)) continue;
      const parts = Array.from({ length: width }, (_, k) =>
        fittingFields(
          rows.map(row => row[k] ?? ''),
          open,
        ),
      );
      if (parts.some(fits => fits.length !== 1)) continue;
      const fields = parts.flatMap(fits => fits);
      if (new Set(fields).size !== width) continue;
      const column = source.header[place]?.trim() ?? '';
      for (const [k, field] of fields.entries()) {
        const words = wordsOf(
          rows.map(row => row[k] ?? ''),
          field,
        );
        found.push({
          field,
          places: [place],
          spec: { column, part: k + 1, by, ...(Object.keys(words).length === 0 ? {} : { words }) },
          note: `${source.name}: ${field.name} is part ${k + 1} of ${column}`,
        });
      }
      break;
    }
  }
  return found;
}

function fittingFields(texts: readonly string[], open: readonly Field[]): readonly Field[] {
  const filled = texts.filter(text => text !== '');
  if (filled.length === 0) return [];
  return open.filter(
    field => field.type === 'category' && filled.every(text => meaningOf(text, field) !== undefined),
  );
}

/** The one word of a field that a text stands for. */
function meaningOf(text: string, field: Field): string | undefined {
  if (field.type !== 'category') return undefined;
  const plain = plainWords(text);
  const meanings = field.categories
    .map(({ value }) => value)
    .filter(word => plainWords(word) === plain || SYNONYMS[word]?.includes(plain));
  return meanings.length === 1 ? meanings[0] : undefined;
}

function wordsOf(texts: readonly string[], field: Field): Readonly<Record<string, string>> {
  return Object.fromEntries(
    [...new Set(texts)].flatMap(text => {
      const meaning = meaningOf(text, field);
      return meaning === undefined || meaning === text ? [] : [[text, meaning] as const];
    }),
  );
}

/**
 * Fields of a table that no column holds by itself. A column that was taken for a field of words is looked at again
 * where its texts are no words of that field.
 */
export function splitFields(
  source: SampledSource,
  table: TableName,
  taken: ReadonlyMap<string, number>,
): readonly SplitField[] {
  const { fields } = DICTIONARY[table];
  const loose = fields.filter(field => {
    const texts = [...(source.values[taken.get(field.name) ?? -1]?.keys() ?? [])];
    return field.type === 'category' && texts.some(text => meaningOf(text, field) === undefined);
  });
  const loosePlaces = loose.flatMap(({ name }) => taken.get(name) ?? []);
  const open = fields.filter(({ name }) => !taken.has(name));
  const used = new Set(taken.values());
  const free = source.header
    .map((_, place) => place)
    .filter(place => source.header[place]?.trim() !== '' && !used.has(place));
  const dates = splitDates(source, table, open, free);
  const left = free.filter(place => !dates.some(({ places }) => places.includes(place)));
  const still = open.filter(field => !dates.some(one => one.field === field));
  const period = splitPeriod(source, still, left);
  const words = splitWords(
    source,
    [...still, ...loose],
    [...left.filter(place => !period.some(({ places }) => places.includes(place))), ...loosePlaces],
  );
  return [...dates, ...period, ...words];
}
