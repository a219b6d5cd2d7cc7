import type { Table } from './field.ts';
import { EPISODE_ID, TO_EPISODES, words } from './field.ts';

export const ASSESSMENTS: Table = {
  name: 'assessments',
  file: 'assessments.csv',
  row: 'One examination of one foot by one assessor.',
  rowType: 'AssessmentRow',
  key: ['episode_id', 'date', 'assessor_id'],
  foreignKeys: [TO_EPISODES],
  fields: [
    EPISODE_ID,
    { name: 'date', type: 'date', required: true, meaning: 'Day of the examination.' },
    {
      name: 'assessor_id',
      type: 'code',
      required: false,
      meaning: 'Pseudonymous code of the assessor; two assessors on one day are allowed.',
    },
    {
      name: 'kind',
      type: 'category',
      required: true,
      categories: words('baseline', 'checkup', 'unscheduled', 'discharge', 'follow-up'),
      meaning: 'Occasion of the examination.',
    },
    {
      name: 'bisector_position',
      type: 'number',
      required: false,
      minimum: 2,
      maximum: 5,
      values: [2, 2.5, 3, 3.5, 4, 4.5, 5],
      meaning: 'Toe that the heel bisector meets, a half being the web before the next toe.',
    },
    {
      name: 'bisector_angle_degrees',
      type: 'number',
      unit: 'degrees',
      required: false,
      minimum: -30,
      maximum: 60,
      meaning: 'Measured heel bisector angle.',
    },
    {
      name: 'flexibility',
      type: 'category',
      required: false,
      ordered: true,
      categories: [
        { value: 'past straight', label: 'the forefoot goes beyond straight: flexible' },
        { value: 'to straight', label: 'the forefoot just reaches straight: partly flexible' },
        { value: 'short of straight', label: 'the forefoot does not reach straight: rigid' },
      ],
      meaning: 'How far the forefoot can be brought outward by hand.',
    },
    {
      name: 'medial_crease',
      type: 'yes/no',
      required: false,
      meaning: 'There is a crease on the inner side of the foot.',
    },
    {
      name: 'decision',
      type: 'category',
      required: false,
      categories: words('start', 'continue', 'step down', 'return to full time', 'finish', 'refer'),
      meaning: 'What was decided on the prescribed wear.',
    },
  ],
};
