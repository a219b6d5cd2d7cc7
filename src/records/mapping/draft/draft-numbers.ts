import type { DraftColumn, DraftWriting } from './draft-dates.ts';
import { meansMissing } from './missing-words.ts';

const WITH_COMMA = /^[+-]?\d+,\d+$/;
const WITH_POINT = /^[+-]?\d*\.\d+$/;
const WHOLE = /^[+-]?\d+$/;

/** How a file writes its numbers, and columns whose numbers cannot be in the unit of their field. */
export function draftNumbers(source: string, columns: readonly DraftColumn[]): DraftWriting {
  const missing = new Map<string, readonly string[]>();
  const unsettled: { where: string; question: string }[] = [];
  let commas = 0;
  let points = 0;
  for (const { field, column, values } of columns) {
    const blanks = [...values.keys()].filter(meansMissing);
    if (blanks.length > 0) missing.set(column, blanks);
    const texts = [...values.keys()].filter(text => !meansMissing(text));
    commas += texts.filter(text => WITH_COMMA.test(text)).length;
    points += texts.filter(text => WITH_POINT.test(text)).length;
    const numbers = texts.filter(text => WHOLE.test(text) || WITH_COMMA.test(text) || WITH_POINT.test(text));
    const where = `${source}.${column}`;
    if (numbers.length < texts.length) {
      const question = `${texts.length - numbers.length} of its ${texts.length} texts are no numbers; how are they to be read as ${field.name} (words, unit, part)`;
      unsettled.push({ where, question });
      continue;
    }
    if (field.type !== 'integer' && field.type !== 'number') continue;
    const outside = numbers
      .map(text => Number(text.replace(',', '.')))
      .filter(n => n > field.maximum || n < field.minimum);
    if (outside.length > numbers.length / 2) {
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
    unsettled,
    notes: comma ? [`${source}: numbers have a decimal comma`] : [],
  };
}
