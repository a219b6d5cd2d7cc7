import { allowedIn } from '../dictionary.ts';
import type { Field, Table } from '../dictionary/field.ts';
import type { OriginFile } from '../reading/origins.ts';
import type { PlainBlock } from './blocks.ts';
import type { FieldSpec } from './mapping.ts';
import type { Translate, Writing } from './translate.ts';
import { translator } from './translate.ts';

/** A row of the dictionary made of a row of a file: for each field its text, and the text it was made of. */
export interface MadeRow {
  readonly texts: readonly string[];
  readonly originals: readonly string[];
}

/** A block that knows at which place of a row each of its columns stands. */
export interface CompiledBlock {
  readonly origin: OriginFile;
  /** Columns that the block needs and the file has not, or has more than once. */
  readonly absent: readonly string[];
  readonly ambiguous: readonly string[];
  /** Places of the columns that the block uses. */
  readonly places: readonly number[];
  /** The row made of some cells; undefined if there is none to be made. */
  make(cells: readonly string[]): MadeRow | undefined;
}

/** @param label the file as problems name it */
export function compileBlock(
  table: Table,
  block: PlainBlock,
  header: readonly string[],
  label: string,
  writing: Writing,
): CompiledBlock {
  const names = header.map(name => name.trim());
  const absent = new Set<string>();
  const ambiguous = new Set<string>();
  const places = new Set<number>();
  const place = (column: string): number => {
    const found = names.indexOf(column);
    if (found === -1) absent.add(column);
    else if (names.includes(column, found + 1)) ambiguous.add(column);
    places.add(found);
    return found;
  };
  const specs = table.fields.map(field => specOf(field, block, names));
  const fields = table.fields.map((field, k) => compileField(field, specs[k], place, writing));
  const where = (block.where ?? []).map(({ column, is }) => ({ at: place(column), is: new Set(is) }));
  const needed = block.unlessBlank?.map(place);
  const seen = block.distinct === true ? new Set<string>() : undefined;
  const cellAt = (cells: readonly string[], at: number): string => (cells[at] ?? '').trim();

  return {
    origin: {
      label,
      columns: specs.map(columnOf),
      allowed: table.fields.map((f, k) => allowedBy(f, specs[k], writing)),
    },
    absent: [...absent],
    ambiguous: [...ambiguous],
    places: [...places],
    make(cells) {
      if (!where.every(({ at, is }) => is.has(cellAt(cells, at)))) return undefined;
      if (needed !== undefined && needed.every(at => cellAt(cells, at) === '')) return undefined;
      const made = fields.map(field => field(cells));
      const texts = made.map(({ text }) => text);
      if (seen !== undefined) {
        const key = JSON.stringify(texts);
        if (seen.has(key)) return undefined;
        seen.add(key);
      }
      return { texts, originals: made.map(({ original }) => original) };
    },
  };
}

function specOf(field: Field, { fields }: PlainBlock, names: readonly string[]): FieldSpec | undefined {
  if (fields === undefined) return names.includes(field.name) ? { column: field.name } : undefined;
  return fields[field.name];
}

type MakeCell = (cells: readonly string[]) => { readonly text: string; readonly original: string };

const NOTHING = { text: '', original: '' };

function compileField(
  field: Field,
  spec: FieldSpec | undefined,
  place: (column: string) => number,
  writing: Writing,
): MakeCell {
  if (spec === undefined) return () => NOTHING;
  const translate: Translate = translator(field, spec, writing);
  // What is personal is not kept beyond its reading.
  const kept = (text: string): string => (field.personal === true ? '' : text);
  const { value, join, column, part, by = '', suffix = '' } = spec;
  if (value !== undefined) {
    const constant = { text: spec.words?.[value] ?? value, original: '' };
    return () => constant;
  }
  if (join !== undefined) {
    const at = join.map(place);
    return cells => {
      const parts = at.map(k => (cells[k] ?? '').trim());
      if (parts.includes('')) return NOTHING;
      const original = parts.join(spec.with ?? '');
      return { text: translate(original), original: kept(original) };
    };
  }
  const at = place(column ?? '');
  return cells => {
    // The text between the parts may begin or end with a blank, so the whole is split as it stands.
    const whole = cells[at] ?? '';
    const text = (part === undefined ? whole : (whole.split(by)[part - 1] ?? '')).trim();
    const original = text === '' ? '' : `${text}${suffix}`;
    return { text: translate(original), original: kept(original) };
  };
}

function columnOf(spec: FieldSpec | undefined): string | undefined {
  return spec?.column ?? spec?.join?.join(' + ');
}

/** What a column may hold, where that is not what the dictionary allows. */
function allowedBy(field: Field, spec: FieldSpec | undefined, writing: Writing): string | undefined {
  if (spec === undefined || spec.value !== undefined) return undefined;
  const words = Object.keys(spec.words ?? {});
  if (words.length > 0) {
    return field.type === 'category' || field.type === 'yes/no'
      ? `${words.join(', ')}, or in the words of the dictionary ${allowedIn(field)}`
      : `${words.join(', ')}, or ${allowedIn(field)}`;
  }
  const order = spec.dates ?? writing.dates;
  if (field.type === 'date' && order !== 'year-month-day') {
    return `a date of the calendar, written ${order.replaceAll('-', ', ')}`;
  }
  const decimal = spec.decimal ?? writing.decimal;
  if (field.type === 'number' && decimal === 'comma') return `${allowedIn(field)}, with a decimal comma`;
  return undefined;
}
