import type { Table } from './field.ts';
import { EPISODE_ID, TO_EPISODES, words } from './field.ts';

export const EVENTS: Table = {
  name: 'events',
  file: 'events.csv',
  row: 'One skin or other event of one foot.',
  rowType: 'EventRow',
  key: ['episode_id', 'date', 'kind'],
  foreignKeys: [TO_EPISODES],
  fields: [
    EPISODE_ID,
    { name: 'date', type: 'date', required: true, meaning: 'Day of the event.' },
    {
      name: 'kind',
      type: 'category',
      required: true,
      categories: words(
        'slight redness',
        'strong redness',
        'blister',
        'pressure sore',
        'brace pulled off',
        'unplanned pause',
      ),
      meaning: 'What happened.',
    },
    {
      name: 'hours_off',
      type: 'number',
      unit: 'hours',
      required: false,
      minimum: 0,
      maximum: 2000,
      meaning: 'Hours without the brace because of the event.',
    },
    {
      name: 'review_date',
      type: 'date',
      required: false,
      meaning: 'Day on which a clinician saw the foot because of the event.',
    },
    {
      name: 'cause',
      type: 'category',
      required: false,
      categories: words('strap too tight', 'poor fit', 'sock fold', 'not known'),
      meaning: 'What brought it about.',
    },
  ],
};
