import type { TableName } from '../records/records.ts';

/** Columns of the export, in the order of the data dictionary. */
export const COLUMNS: Readonly<Record<TableName, readonly string[]>> = {
  episodes: [
    'episode_id',
    'infant_id',
    'site_id',
    'clinician_id',
    'foot',
    'sex',
    'age_at_start_days',
    'birth_date',
    'gestational_weeks',
    'referral_date',
    'start_date',
    'end_date',
    'end_reason',
    'teach_back',
    'baseline_photo',
    'ankle_opened',
    'toe_relieved',
  ],
  assessments: [
    'episode_id',
    'date',
    'assessor_id',
    'kind',
    'bisector_position',
    'bisector_angle_degrees',
    'flexibility',
    'medial_crease',
    'decision',
  ],
  phases: ['episode_id', 'start_date', 'end_date', 'prescribed_hours'],
  wear: ['episode_id', 'date', 'source', 'hours_worn'],
  events: ['episode_id', 'date', 'kind', 'hours_off', 'review_date', 'cause'],
};

/** Lines of the five files, without header and line ends. No value holds a comma or a quotation mark. */
export type TableLines = Record<TableName, string[]>;

export function emptyLines(): TableLines {
  return { episodes: [], assessments: [], phases: [], wear: [], events: [] };
}
