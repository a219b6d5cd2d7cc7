import { canonicalRows, cell, dated, daysAfter, separated } from './canonical.ts';

const EPISODES =
  'series,no,baby,site,cl,sex,weeks,side and reason,born y,born m,born d,referred,fit y,fit m,fit d,ended,flags'.split(
    ',',
  );

/** Texts in UTF-16 with tabs: dates in three columns, codes in two, several answers in one, wear in a file a year. */
export function splitColumns(): Readonly<Record<string, Buffer>> {
  const split = (iso: string): string[] => (iso === '' ? ['', '', ''] : iso.split('-'));
  const code = (id: string): string[] => [id.slice(0, 1), id.slice(1)];
  const short = (iso: string): string => dated(iso, (y, m, d) => `${d}-${m}-${y.slice(2)}`);
  const letter = (answer: string): string => (answer === 'yes' ? 'Y' : answer === 'no' ? 'N' : '');
  const episodes = canonicalRows('episodes').map(row => {
    const born = daysAfter(cell(row, 'start_date'), -Number(cell(row, 'age_at_start_days')));
    const answers = ['teach_back', 'baseline_photo', 'ankle_opened', 'toe_relieved'];
    return [
      ...code(cell(row, 'episode_id')),
      cell(row, 'infant_id'),
      cell(row, 'site_id'),
      cell(row, 'clinician_id'),
      { female: 'F', male: 'M' }[cell(row, 'sex')] ?? '',
      `${cell(row, 'gestational_weeks')}+3`,
      `${cell(row, 'foot') === 'left' ? 'L' : 'R'} / ${cell(row, 'end_reason')}`,
      ...split(born),
      short(cell(row, 'referral_date')),
      ...split(cell(row, 'start_date')),
      short(cell(row, 'end_date')),
      answers.map(field => letter(cell(row, field))).join('|'),
    ];
  });
  const lateral: Readonly<Record<string, string>> = { '4.5': 'lateral to 4th', '2.5': 'between 2nd and 3rd' };
  const visits = canonicalRows('assessments').map(row => [
    ...code(cell(row, 'episode_id')),
    ...split(cell(row, 'date')),
    cell(row, 'assessor_id'),
    cell(row, 'kind'),
    lateral[cell(row, 'bisector_position')] ?? cell(row, 'bisector_position'),
    cell(row, 'bisector_angle_degrees') || 'n/a',
    cell(row, 'flexibility'),
    letter(cell(row, 'medial_crease')),
    cell(row, 'decision'),
  ]);
  const phases = canonicalRows('phases').map(row => [
    ...code(cell(row, 'episode_id')),
    `${short(cell(row, 'start_date'))} to ${short(cell(row, 'end_date'))}`,
    String(Number(cell(row, 'prescribed_hours')) * 60),
  ]);
  const wear = (years: (year: string) => boolean): string[][] =>
    canonicalRows('wear')
      .filter(row => years(cell(row, 'date').slice(0, 4)))
      .map(row => {
        const hours = Number(cell(row, 'hours_worn'));
        const minutes = Math.round((hours % 1) * 60);
        const clock = `${Math.floor(hours)}:${String(minutes).padStart(2, '0')}`;
        return [...code(cell(row, 'episode_id')), short(cell(row, 'date')), cell(row, 'source'), clock];
      });
  const events = canonicalRows('events').map(row => [
    ...code(cell(row, 'episode_id')),
    ...split(cell(row, 'date')),
    `${cell(row, 'kind')} (${cell(row, 'cause')}`,
    cell(row, 'hours_off'),
    short(cell(row, 'review_date')),
  ]);
  const wearHeader = ['series', 'no', 'day', 'from', 'worn'];
  const visitHeader = [
    'series',
    'no',
    'y',
    'm',
    'd',
    'by',
    'kind',
    'line',
    'angle',
    'bend',
    'crease',
    'then',
  ];
  return {
    'episodes.txt': utf16([EPISODES, ...episodes]),
    'visits.txt': utf16([visitHeader, ...visits]),
    'prescribed.txt': utf16([['series', 'no', 'period', 'minutes'], ...phases]),
    'worn to 2023.txt': utf16([wearHeader, ...wear(year => year <= '2023')]),
    'worn from 2024.txt': utf16([wearHeader, ...wear(year => year > '2023')]),
    'skin.txt': utf16([['series', 'no', 'y', 'm', 'd', 'what', 'off', 'seen'], ...events]),
  };
}

function utf16(rows: readonly (readonly string[])[]): Buffer {
  return Buffer.from(`\uFEFF${separated(rows, '\t', '\r\n')}`, 'utf16le');
}
