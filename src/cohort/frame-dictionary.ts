import type { CohortFrames } from './cohort-frames.ts';
import type { FrameColumn, FrameDescription } from './frame-column.ts';
import { FEET_COLUMNS } from './frame-dictionary-feet.ts';

const EPISODE: FrameColumn = {
  name: 'episode_id',
  type: 'text',
  meaning: 'Pseudonymous code of the episode; joins the frames.',
};

/**
 * Every column of every analysis frame, in the order of `cohortFrames`. Where a column is named as a field of the data
 * dictionary, it means the same.
 */
export const FRAME_DICTIONARY: Readonly<Record<keyof CohortFrames, FrameDescription>> = {
  feet: { row: 'One row a treated foot (an episode).', columns: [EPISODE, ...FEET_COLUMNS] },
  stepDowns: {
    row: 'One row a step-down: a change to shorter prescribed hours, or the end of therapy.',
    columns: [
      EPISODE,
      { name: 'infant_id', type: 'text', meaning: 'Pseudonymous code of the infant.' },
      { name: 'site_id', type: 'text', meaning: 'Code of the site.' },
      { name: 'severity_band', type: 'text', meaning: 'Severity at baseline.' },
      { name: 'step_down_day', type: 'integer', unit: 'day', meaning: 'Day of the change.' },
      { name: 'step', type: 'text', meaning: 'From which hours to which, such as 24 to 12.' },
      { name: 'from_hours', type: 'number', unit: 'hours a day', meaning: 'Prescribed hours before.' },
      {
        name: 'to_hours',
        type: 'number',
        unit: 'hours a day',
        meaning: 'Prescribed hours after; 0 is none.',
      },
      { name: 'ordinal', type: 'integer', meaning: 'Which step-down of the foot it is, from 1.' },
      {
        name: 'days_in_phase_before',
        type: 'integer',
        unit: 'days',
        meaning: 'Days at the hours before.',
      },
      {
        name: 'reference_position',
        type: 'number',
        meaning: 'Bisector position that later ones are compared with.',
      },
      {
        name: 'days_at_risk',
        type: 'integer',
        unit: 'days',
        meaning: 'Days from the step-down to its relapse or to the end of its follow-up.',
      },
      {
        name: 'relapse_cause',
        type: 'text',
        meaning: 'How the follow-up ended: relapse, another end, or censored.',
      },
      { name: 'relapse_sign', type: 'text', meaning: 'By which sign the relapse was told; blank if none.' },
    ],
  },
  visits: {
    row: 'One row an assessment that counts, one a day.',
    columns: [
      EPISODE,
      { name: 'visit_day', type: 'integer', unit: 'day', meaning: 'Day of the assessment.' },
      { name: 'assessor_id', type: 'text', meaning: 'Pseudonymous code of the assessor.' },
      { name: 'kind', type: 'text', meaning: 'Occasion of the assessment.' },
      { name: 'bisector_position', type: 'number', meaning: 'Toe that the heel bisector meets.' },
      { name: 'flexibility', type: 'text', meaning: 'How far the forefoot could be brought.' },
      { name: 'medial_crease', type: 'yes/no', meaning: 'Whether there was a medial crease.' },
      { name: 'decision', type: 'text', meaning: 'What was decided about the hours.' },
      {
        name: 'correction_state',
        type: 'text',
        meaning: 'Corrected, uncorrected or not evaluable, by the plan.',
      },
    ],
  },
  spells: {
    row: 'One row a spell at unchanged prescribed hours.',
    columns: [
      EPISODE,
      { name: 'start_day', type: 'integer', unit: 'day', meaning: 'First day of the spell.' },
      { name: 'end_day', type: 'integer', unit: 'day', meaning: 'Last day of the spell, included.' },
      { name: 'prescribed_hours', type: 'number', unit: 'hours a day', meaning: 'Prescribed hours.' },
    ],
  },
  wearDays: {
    row: 'One row an adherence day with data.',
    columns: [
      EPISODE,
      { name: 'wear_day', type: 'integer', unit: 'day', meaning: 'The day.' },
      { name: 'hours_worn', type: 'number', unit: 'hours', meaning: 'Hours worn, from the best source.' },
      {
        name: 'expected_hours',
        type: 'number',
        unit: 'hours',
        meaning: 'Prescribed hours, less the hours for care at full time.',
      },
      {
        name: 'adherence',
        type: 'number',
        unit: 'of 1',
        meaning: 'Hours worn over hours expected; can be over 1.',
      },
      {
        name: 'source',
        type: 'text',
        meaning: 'Sensor, diary or recall; no row where the plan counts a missing day as not worn.',
      },
    ],
  },
  skinEvents: {
    row: 'One row an event of skin or brace.',
    columns: [
      EPISODE,
      { name: 'event_day', type: 'integer', unit: 'day', meaning: 'Day of the event.' },
      { name: 'kind', type: 'text', meaning: 'What happened.' },
      { name: 'hours_off', type: 'number', unit: 'hours', meaning: 'Hours without the brace for it.' },
      {
        name: 'review_day',
        type: 'integer',
        unit: 'day',
        meaning: 'Day on which the skin was looked at again.',
      },
      { name: 'cause', type: 'text', meaning: 'What was taken to be the cause.' },
    ],
  },
};
