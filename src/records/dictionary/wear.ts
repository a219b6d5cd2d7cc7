import type { Table } from './field.ts';
import { EPISODE_ID, TO_EPISODES } from './field.ts';

export const WEAR: Table = {
  name: 'wear',
  file: 'wear.csv',
  row: 'Hours worn by one foot on one day, by one source; no row means not known, never zero.',
  rowType: 'WearRow',
  key: ['episode_id', 'date', 'source'],
  foreignKeys: [TO_EPISODES],
  fields: [
    EPISODE_ID,
    { name: 'date', type: 'date', required: true, meaning: 'Day of wear.' },
    {
      name: 'source',
      type: 'category',
      required: true,
      categories: [
        { value: 'sensor', label: 'recorded by a sensor in the brace' },
        { value: 'diary', label: 'written down by the parents day by day' },
        { value: 'recall', label: 'told by the parents at a visit' },
      ],
      meaning: 'Where the hours come from.',
    },
    {
      name: 'hours_worn',
      type: 'number',
      unit: 'hours',
      required: true,
      minimum: 0,
      maximum: 24,
      meaning: 'Hours worn on the day; 0 is a day not worn.',
    },
  ],
};
