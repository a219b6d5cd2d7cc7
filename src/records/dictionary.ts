import { ASSESSMENTS } from './dictionary/assessments.ts';
import { EPISODES } from './dictionary/episodes.ts';
import { EVENTS } from './dictionary/events.ts';
import type { Field, Table } from './dictionary/field.ts';
import { CODE_PATTERN, FIRST_DATE, LAST_DATE } from './dictionary/field.ts';
import { PHASES } from './dictionary/phases.ts';
import { WEAR } from './dictionary/wear.ts';
import type { TableName } from './records.ts';

/**
 * Every table and field of an export, defined once. The checks, the published dictionary and the types in rows.ts are
 * all made from it.
 */
export const DICTIONARY: Readonly<Record<TableName, Table>> = {
  episodes: EPISODES,
  assessments: ASSESSMENTS,
  phases: PHASES,
  wear: WEAR,
  events: EVENTS,
};

/** What a field may hold, in words, such as `a whole number from 22 to 44`. */
export function allowedIn(field: Field): string {
  switch (field.type) {
    case 'code':
      return 'a code of 1 to 40 letters, digits, dots, hyphens or underscores';
    case 'date':
      return `a calendar date such as 2025-03-09, from ${FIRST_DATE} to ${LAST_DATE}`;
    case 'yes/no':
      return 'yes, no';
    case 'category':
      return field.categories.map(category => category.value).join(', ');
    default: {
      if (field.values !== undefined) return field.values.join(', ');
      const kind = field.type === 'integer' ? 'a whole number' : 'a number';
      return field.aboveMinimum === true
        ? `${kind} over ${field.minimum}, up to ${field.maximum}`
        : `${kind} from ${field.minimum} to ${field.maximum}`;
    }
  }
}

export { CODE_PATTERN, FIRST_DATE, LAST_DATE };
