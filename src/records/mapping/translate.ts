import type { Field } from '../dictionary/field.ts';
import { isoDateFrom, plusDays } from './date-text.ts';
import type { DateOrder, FieldSpec, Unit } from './mapping.ts';

/** How values are written where a field does not say so itself. */
export interface Writing {
  readonly dates: DateOrder;
  readonly decimal: 'point' | 'comma';
  readonly missing: readonly string[];
}

/** Turns a text of the clinic into one of the dictionary; a text that cannot be turned becomes one that no field allows. */
export type Translate = (text: string) => string;

/** Stands for a text that cannot be translated. */
export const UNTRANSLATED = '?';

export function translator(field: Field, spec: FieldSpec, writing: Writing): Translate {
  const words = spec.words === undefined ? undefined : new Map(Object.entries(spec.words));
  const blanks = new Set(spec.missing ?? writing.missing);
  const byType = typeTranslator(
    field,
    spec.dates ?? writing.dates,
    spec.decimal ?? writing.decimal,
    spec.unit,
  );
  const { plusDays: days } = spec;
  return text => {
    if (text === '' || blanks.has(text)) return '';
    const word = words?.get(text);
    if (word !== undefined) return field.type === 'yes/no' ? yesNo(word) : word;
    const value = byType(text);
    return days === undefined || value === UNTRANSLATED ? value : (plusDays(value, days) ?? UNTRANSLATED);
  };
}

/** YAML turns neither yes nor no into a boolean, but true and false may be written. */
function yesNo(word: string): string {
  return word === 'true' ? 'yes' : word === 'false' ? 'no' : word;
}

function typeTranslator(
  field: Field,
  order: DateOrder,
  decimal: 'point' | 'comma',
  unit: Unit | undefined,
): Translate {
  switch (field.type) {
    case 'date':
      return text => isoDateFrom(text, order) ?? UNTRANSLATED;
    case 'integer':
    case 'number': {
      const convert = unit === undefined ? (text: string) => text : conversion(unit);
      if (decimal === 'point') return convert;
      // A point in a number with decimal commas sets thousands apart, or is a slip; it is not guessed.
      return text => (text.includes('.') ? UNTRANSLATED : convert(text.replace(',', '.')));
    }
    default:
      return text => text;
  }
}

const NUMBER = /^\d{1,9}(\.\d{1,9})?$/;

function conversion(unit: Unit): Translate {
  switch (unit) {
    case 'weeks to days':
      return text => (NUMBER.test(text) ? written(Number(text) * 7) : UNTRANSLATED);
    case 'days to weeks':
      return text => (NUMBER.test(text) ? written(Math.floor(Number(text) / 7)) : UNTRANSLATED);
    case 'weeks+days to weeks':
      return text => /^(\d{1,2})(\s*\+\s*[0-6](\/7)?)?$/.exec(text)?.[1] ?? UNTRANSLATED;
    case 'minutes to hours':
      return text => (NUMBER.test(text) ? written(Number(text) / 60) : UNTRANSLATED);
    default:
      return text => {
        const match = /^(\d{1,2}):([0-5]\d)(?::([0-5]\d))?$/.exec(text);
        if (match === null) return UNTRANSLATED;
        return written(Number(match[1]) + Number(match[2]) / 60 + Number(match[3] ?? 0) / 3600);
      };
  }
}

/** A number as the dictionary writes it: no more decimals than can be told apart. */
function written(value: number): string {
  return String(Number(value.toFixed(9)));
}
