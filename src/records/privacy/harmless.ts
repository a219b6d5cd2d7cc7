import { DICTIONARY } from '../dictionary.ts';
import { plainWords } from './plain-words.ts';
import { identifyingValue } from './identifying-value.ts';
import { SYNONYMS } from './synonyms.ts';

// A problem shows a value only if it can be told to say nothing of a person: a short number, a date, a word that the
// dictionary knows in some spelling, a letter or two. Any other text may be a name.

const NUMBER =
  /^[<>=~+-]*\s*\d*[.,]?\d*(e[+-]?\d{1,4})?\s*(%|h|hrs?|hours?|days?|weeks?|°|nan|inf|infinity)?$/i;
/** Thousands set apart, with or without decimals. */
const GROUPED_NUMBER = /^[+-]?\d{1,3}([.,'’\s]\d{3})+([.,]\d+)?$/;
const HOURS_AND_MINUTES = /^\d{1,3}:\d{2}(:\d{2})?$/;
const MOST_DIGITS = 6;
const LONGEST_LOOKED_AT = 200;
const DATE =
  /^(\d{1,4}[-./ ]\d{1,2}[-./ ]\d{1,4}|\d{1,2}[-./ ]?[a-z]{3}[-./ ]?\d{2,4})([T ]\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:?\d{2})?)?$/i;

const KNOWN = new Set([
  ...Object.values(DICTIONARY).flatMap(({ fields }) =>
    fields.flatMap(field =>
      field.type === 'category' ? field.categories.map(c => plainWords(c.value)) : [],
    ),
  ),
  ...Object.values(SYNONYMS).flat(),
  ...'true, false, na, n a, nan, null, none, unknown, not known, missing, nil, tbc'.split(', '),
]);

/** Whether a value of a number, date, category or yes/no field may be shown. */
export function harmlessValue(text: string): boolean {
  if (text.length > LONGEST_LOOKED_AT) return false;
  const trimmed = text.trim();
  if (DATE.test(trimmed) || HOURS_AND_MINUTES.test(trimmed)) return true;
  const digits = trimmed.replace(/\D/g, '').length;
  if (digits > 0 && digits <= MOST_DIGITS && (NUMBER.test(trimmed) || GROUPED_NUMBER.test(trimmed)))
    return true;
  const plain = plainWords(trimmed);
  return KNOWN.has(plain) || (plain.length <= 2 && trimmed.length <= 10);
}

/** Whether a code may be shown: one with a digit in it that does not look like a number given to a person. */
export function harmlessCode(text: string): boolean {
  return /\d/.test(text) && text.length <= 40 && identifyingValue(text) === undefined;
}
