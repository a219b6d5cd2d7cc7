import type { Unit } from '../mapping.ts';
import { plainWords } from '../../privacy/plain-words.ts';
import { spoken } from './draft-words.ts';
import type { DraftColumn, DraftWriting } from './draft-dates.ts';
import { meansMissing } from './missing-words.ts';

const WITH_COMMA = /^[+-]?\d+,\d+$/;
const WITH_POINT = /^[+-]?\d*\.\d+$/;
const WHOLE = /^[+-]?\d+$/;
const HOURS_AND_MINUTES = /^\d{1,2}:[0-5]\d(:[0-5]\d)?$/;
const WEEKS_AND_DAYS = /^\d{1,2}\s*\+\s*[0-6](\/7)?$/;
const MINUTES = new Set(['minutes', 'minute', 'mins', 'min', 'minuten', 'minutos', 'minuti']);
const WEEKS = new Set(['weeks', 'week', 'wochen', 'semaines', 'semanas', 'settimane', 'weken']);

/** Texts that are shown of those that are no numbers. */
const MOST_SHOWN = 4;

export interface DraftNumbers extends DraftWriting {
  /** Units that the values themselves or the header tell, by column. */
  readonly units: ReadonlyMap<string, Unit>;
}

/** How a file writes its numbers, and columns whose numbers cannot be in the unit of their field. */
export function draftNumbers(source: string, columns: readonly DraftColumn[]): DraftNumbers {
  const missing = new Map<string, readonly string[]>();
  const units = new Map<string, Unit>();
  const unsettled: { where: string; question: string }[] = [];
  const notes: string[] = [];
  let commas = 0;
  let points = 0;
  for (const { field, column, values } of columns) {
    const blanks = [...values.keys()].filter(meansMissing);
    if (blanks.length > 0) missing.set(column, blanks);
    const texts = [...values.keys()].filter(text => !meansMissing(text));
    commas += texts.filter(text => WITH_COMMA.test(text)).length;
    points += texts.filter(text => WITH_POINT.test(text)).length;
    const where = `${source}.${column}`;
    const written = writtenUnit(field.unit, texts);
    if (written !== undefined) {
      units.set(column, written);
      notes.push(`${where}: is read as ${written}`);
      continue;
    }
    const numbers = texts.filter(text => WHOLE.test(text) || WITH_COMMA.test(text) || WITH_POINT.test(text));
    if (numbers.length < texts.length) {
      const others = texts.filter(text => !numbers.includes(text));
      const shown = others.slice(0, MOST_SHOWN).map(text => spoken(text, values.get(text) ?? 0));
      const question = `${others.length} of its ${texts.length} texts are no numbers (${[...new Set(shown)].join(', ')}); how are they to be read as ${field.name} (words, unit, part)`;
      unsettled.push({ where, question });
      continue;
    }
    if (field.type !== 'integer' && field.type !== 'number') continue;
    const outside = numbers
      .map(text => Number(text.replace(',', '.')))
      .filter(n => n > field.maximum || n < field.minimum);
    const named = namedUnit(field.unit, column);
    if (named !== undefined && (named === 'weeks to days' || outside.length > 0)) {
      units.set(column, named);
      notes.push(`${where}: is read as ${named}, as its header says`);
    } else if (outside.length > numbers.length / 2) {
      const question = `most of its numbers are outside ${field.minimum} to ${field.maximum}; in which unit are they`;
      unsettled.push({ where, question });
    }
  }
  if (commas > 0 && points > 0) {
    const question = 'some numbers have a decimal comma and some a decimal point; which is it';
    unsettled.push({ where: `${source} (numbers)`, question });
  }
  const comma = commas > 0 && points === 0;
  return {
    writing: comma ? { decimal: 'comma' } : {},
    missing,
    units,
    unsettled,
    notes: comma ? [`${source}: numbers have a decimal comma`, ...notes] : notes,
  };
}

/** A unit that the texts can only be in. */
function writtenUnit(unit: string | undefined, texts: readonly string[]): Unit | undefined {
  if (texts.length === 0) return undefined;
  if (unit?.startsWith('hours') === true && texts.every(text => HOURS_AND_MINUTES.test(text))) {
    return 'hours:minutes to hours';
  }
  const days = (text: string): boolean => WEEKS_AND_DAYS.test(text);
  if (unit === 'weeks' && texts.some(days) && texts.every(text => days(text) || /^\d{1,2}$/.test(text))) {
    return 'weeks+days to weeks';
  }
  return undefined;
}

/** A unit that the header names. */
function namedUnit(unit: string | undefined, column: string): Unit | undefined {
  const words = plainWords(column).split(' ');
  if (unit?.startsWith('hours') === true && words.some(word => MINUTES.has(word))) return 'minutes to hours';
  if (unit === 'days' && words.some(word => WEEKS.has(word))) return 'weeks to days';
  return undefined;
}
