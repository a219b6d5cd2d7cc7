import type { Table } from './field.ts';
import { EPISODE_ID, TO_EPISODES } from './field.ts';

export const PHASES: Table = {
  name: 'phases',
  file: 'phases.csv',
  row: 'One spell of prescribed wear of one foot; spells follow one another without gaps.',
  rowType: 'PhaseRow',
  key: ['episode_id', 'start_date'],
  foreignKeys: [TO_EPISODES],
  fields: [
    EPISODE_ID,
    { name: 'start_date', type: 'date', required: true, meaning: 'First day of the spell.' },
    {
      name: 'end_date',
      type: 'date',
      required: false,
      meaning: 'Last day of the spell, the day before the next one starts; blank while current.',
    },
    {
      name: 'prescribed_hours',
      type: 'number',
      unit: 'hours a day',
      required: true,
      minimum: 0,
      aboveMinimum: true,
      maximum: 24,
      meaning: 'Hours of wear prescribed; must be one of the phases of the plan.',
    },
  ],
};
