import { isoDate } from '../calendar-date.ts';
import type { Field } from '../dictionary/field.ts';
import { allowedIn } from '../dictionary.ts';
import type { Problem } from '../records.ts';
import { problem, shownValue } from './problem.ts';

// Problems of one cell.

export function missingValue(file: string, line: number, field: Field): Problem {
  return problem('missing-value', 'refused', { file, line, field: field.name }, 'is blank', allowedIn(field));
}

const NOT_OF_TYPE = {
  code: ['not-a-code', 'is not a code'],
  date: ['not-a-date', 'is not a date'],
  integer: ['not-a-whole-number', 'is not a whole number'],
  number: ['not-a-number', 'is not a number'],
  'yes/no': ['not-yes-or-no', 'is neither yes nor no'],
  category: ['not-an-allowed-word', 'is not an allowed word'],
} as const;

/** A value that cannot be read as the type of the field. What was meant for a code may be a name, so it is hidden. */
export function notOfType(file: string, line: number, field: Field, text: string): Problem {
  const [kind, what] = NOT_OF_TYPE[field.type];
  const value = shownValue(text, field.personal === true || field.type === 'code');
  return problem(kind, 'refused', { file, line, field: field.name, value }, what, allowedIn(field));
}

export function outOfRange(file: string, line: number, field: Field, text: string): Problem {
  const value = shownValue(text, field.personal === true);
  const what = field.name === 'hours_worn' ? 'is not within the 24 hours of a day' : 'is out of range';
  return problem('out-of-range', 'refused', { file, line, field: field.name, value }, what, allowedIn(field));
}

export function afterCutOff(file: string, line: number, field: Field, date: number, cutOff: number): Problem {
  const value = shownValue(isoDate(date), field.personal === true);
  return problem(
    'after-cut-off',
    'refused',
    { file, line, field: field.name, value },
    'is after the data cut-off of export.yaml',
    `a date up to ${isoDate(cutOff)}`,
  );
}
