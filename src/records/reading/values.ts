import { daysFromIsoDate } from '../calendar-date.ts';
import type { Interner } from '../coded-column.ts';
import type { CategoryField, Field, NumberField } from '../dictionary/field.ts';
import { identifyingValue } from '../privacy/identifying-value.ts';
import { CODE_PATTERN, FIRST_DATE, LAST_DATE } from '../dictionary/field.ts';

// Every cell is read into one number, so that a column is one typed array: a date is its days since 1970-01-01, a
// category the place of its word in the dictionary, a code its place among the codes met, yes 1 and no 0. Three numbers
// that no field can hold stand for what is no value.

export const MISSING = -2_147_483_648;
export const NOT_OF_TYPE = -2_147_483_647;
export const OUT_OF_RANGE = -2_147_483_646;

export type ReadValue = (text: string) => number;

/** How the cells of a field are read. The text is trimmed and not empty; `codes` serves code fields. */
export function valueReader(field: Field, codes: Interner): ReadValue {
  switch (field.type) {
    case 'code':
      if (field.published === true) {
        return text =>
          CODE.test(text) && identifyingValue(text) === undefined ? codes.code(text) : NOT_OF_TYPE;
      }
      return text => (CODE.test(text) ? codes.code(text) : NOT_OF_TYPE);
    case 'date':
      return readDate;
    case 'yes/no':
      return text => (text === 'yes' ? 1 : text === 'no' ? 0 : NOT_OF_TYPE);
    case 'category':
      return wordReader(field);
    default:
      return numberReader(field);
  }
}

const CODE = new RegExp(`^${CODE_PATTERN}$`);
const WHOLE = /^[+-]?\d{1,15}$/;
const DECIMAL = /^[+-]?(\d{1,15}(\.\d{0,15})?|\.\d{1,15})$/;
const FIRST_DAY = daysFromIsoDate(FIRST_DATE) ?? 0;
const LAST_DAY = daysFromIsoDate(LAST_DATE) ?? 0;

function readDate(text: string): number {
  const days = daysFromIsoDate(text);
  if (days === undefined) return NOT_OF_TYPE;
  return days < FIRST_DAY || days > LAST_DAY ? OUT_OF_RANGE : days;
}

function wordReader(field: CategoryField): ReadValue {
  const places = new Map(field.categories.map((category, place) => [category.value, place]));
  return text => places.get(text) ?? NOT_OF_TYPE;
}

function numberReader(field: NumberField): ReadValue {
  const { minimum, maximum, aboveMinimum = false, values } = field;
  const pattern = field.type === 'integer' ? WHOLE : DECIMAL;
  return text => {
    if (!pattern.test(text)) return NOT_OF_TYPE;
    const value = Number(text);
    if (value < minimum || value > maximum || (aboveMinimum && value === minimum)) return OUT_OF_RANGE;
    return values === undefined || values.includes(value) ? value + 0 : OUT_OF_RANGE;
  };
}
