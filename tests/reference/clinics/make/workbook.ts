import type { CellValue } from 'hucre/xlsx';
import { writeXlsx } from 'hucre/xlsx';
import type { TableName } from '../../../../src/records/records.ts';
import { canonicalRows, cell } from './canonical.ts';

const SHEETS: Readonly<Record<TableName, readonly [string, Readonly<Record<string, string>>]>> = {
  episodes: [
    'Feet in treatment',
    {
      Episode: 'episode_id',
      Baby: 'infant_id',
      Site: 'site_id',
      Therapist: 'clinician_id',
      Side: 'foot',
      Sex: 'sex',
      'Age at start': 'age_at_start_days',
      'Weeks of pregnancy': 'gestational_weeks',
      Referred: 'referral_date',
      Fitted: 'start_date',
      Ended: 'end_date',
      Why: 'end_reason',
      'Parents taught': 'teach_back',
      Photo: 'baseline_photo',
      'Ankle opened': 'ankle_opened',
      'Toe relieved': 'toe_relieved',
    },
  ],
  assessments: [
    'Visits',
    {
      Episode: 'episode_id',
      Day: 'date',
      By: 'assessor_id',
      Kind: 'kind',
      Bisector: 'bisector_position',
      Angle: 'bisector_angle_degrees',
      Bends: 'flexibility',
      Crease: 'medial_crease',
      Next: 'decision',
    },
  ],
  phases: [
    'Prescribed',
    { Episode: 'episode_id', From: 'start_date', To: 'end_date', 'h/day': 'prescribed_hours' },
  ],
  wear: ['Worn', { Episode: 'episode_id', Day: 'date', Source: 'source', Minutes: 'hours_worn' }],
  events: [
    'Skin',
    {
      Episode: 'episode_id',
      Day: 'date',
      What: 'kind',
      'Hours off': 'hours_off',
      Reviewed: 'review_date',
      Cause: 'cause',
    },
  ],
};

/** One workbook with a sheet for each table: dates as dates, answers as TRUE and FALSE, minutes for hours. */
export async function workbook(): Promise<Readonly<Record<string, Uint8Array>>> {
  const sheets = Object.entries(SHEETS).map(([table, [name, columns]]) => ({
    name,
    rows: [
      Object.keys(columns),
      ...canonicalRows(table as TableName).map(row =>
        Object.values(columns).map(field => cellValue(field, cell(row, field))),
      ),
    ],
  }));
  const bytes = await writeXlsx({ sheets });
  return { 'clinic.xlsx': bytes };
}

function cellValue(field: string, text: string): CellValue {
  if (text === '') return null;
  if (field.endsWith('date')) return new Date(`${text}T00:00:00Z`);
  if (text === 'yes' || text === 'no') return text === 'yes';
  if (field === 'hours_worn') return Number(text) * 60;
  return /^-?\d+(\.\d+)?$/.test(text) ? Number(text) : text;
}
