import type { Field } from '../../dictionary/field.ts';
import { isoDateFrom } from '../date-text.ts';
import { DATE_ORDERS } from '../mapping.ts';
import type { Question } from './draft-source.ts';
import { meansMissing } from './missing-words.ts';

export interface DraftColumn {
  readonly field: Field;
  readonly column: string;
  readonly values: ReadonlyMap<string, number>;
}

export interface DraftWriting {
  readonly writing: Readonly<Record<string, unknown>>;
  /** Texts of a column that stand for a missing value. */
  readonly missing: ReadonlyMap<string, readonly string[]>;
  readonly unsettled: readonly Question[];
  readonly notes: readonly string[];
}

/**
 * The order in which a file writes its dates. All its date columns are taken together, for one program wrote them: one
 * row with a day over 12 settles it for all. Where two orders fit every row, the question stays open.
 */
export function draftDates(source: string, columns: readonly DraftColumn[]): DraftWriting {
  const missing = new Map<string, readonly string[]>();
  const texts = columns.flatMap(({ column, values }) => {
    const blanks = [...values.keys()].filter(meansMissing);
    if (blanks.length > 0) missing.set(column, blanks);
    return [...values.keys()].filter(text => !meansMissing(text));
  });
  const orders = DATE_ORDERS.filter(order => texts.every(text => isoDateFrom(text, order) !== undefined));
  const [only, other] = orders;
  const where = `${source} (dates)`;
  if (texts.length === 0) return { writing: {}, missing, unsettled: [], notes: [] };
  if (only !== undefined && other === undefined) {
    const notes = only === 'year-month-day' ? [] : [`${source}: dates are written ${only}; a row settles it`];
    return { writing: only === 'year-month-day' ? {} : { dates: only }, missing, unsettled: [], notes };
  }
  const question =
    only === undefined
      ? `no one order of day, month and year fits every date; in which order are they written (${DATE_ORDERS.join(', ')})`
      : `every date fits ${orders.join(' and ')}; set "dates" of the source to the right one`;
  return { writing: {}, missing, unsettled: [{ where, question }], notes: [] };
}
