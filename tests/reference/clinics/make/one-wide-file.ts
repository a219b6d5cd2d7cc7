import { canonicalRows, cell, dated, daysBetween, rowsOf, separated } from './canonical.ts';

const VISITS = 18;
const PHASES = 10;
const EVENTS = 5;
const SOURCES = ['sensor', 'diary'] as const;
/** Days of wear that have a column: those of the canonical wear log. */
const LAST_DAY = 130;

const OF_EPISODE = [
  'episode_id',
  'start_date',
  'end_date',
  'end_reason',
  'teach_back',
  'baseline_photo',
  'ankle_opened',
  'toe_relieved',
] as const;
const OF_VISIT = [
  'date',
  'assessor_id',
  'kind',
  'bisector_position',
  'bisector_angle_degrees',
  'flexibility',
  'medial_crease',
  'decision',
] as const;

/** One file with one row an infant and months before days: everything else stands in columns of its own. */
export function oneWideFile(): Readonly<Record<string, string>> {
  const [episodes, visits, phases, wear, events] = [
    canonicalRows('episodes'),
    canonicalRows('assessments'),
    canonicalRows('phases'),
    canonicalRows('wear'),
    canonicalRows('events'),
  ];
  const american = (iso: string): string => dated(iso, (y, m, d) => `${Number(m)}/${Number(d)}/${y}`);
  const value = (field: string, text: string): string => (field.endsWith('date') ? american(text) : text);
  const header: string[] = ['Infant', 'Site', 'Therapist', 'Sex', 'Age (days)', 'Gestation', 'Referred'];
  for (const side of ['left', 'right']) {
    header.push(...OF_EPISODE.map(field => `${side} ${field}`));
    for (let n = 1; n <= VISITS; n++) header.push(...OF_VISIT.map(field => `${side} visit ${n} ${field}`));
    for (let n = 1; n <= PHASES; n++)
      header.push(`${side} phase ${n} from`, `${side} phase ${n} to`, `${side} phase ${n} h`);
    for (let n = 1; n <= EVENTS; n++) {
      header.push(...['on', 'what', 'h off', 'seen', 'why'].map(what => `${side} event ${n} ${what}`));
    }
    for (const source of SOURCES) for (let n = 0; n <= LAST_DAY; n++) header.push(`${side} ${source} ${n}`);
  }
  const infants = [...new Set(episodes.map(row => cell(row, 'infant_id')))];
  const rows = infants.map(infant => {
    const own = episodes.filter(row => cell(row, 'infant_id') === infant);
    const [first] = own;
    const cells = [infant, cell(first, 'site_id'), cell(first, 'clinician_id'), cell(first, 'sex')];
    cells.push(
      cell(first, 'age_at_start_days'),
      cell(first, 'gestational_weeks'),
      american(cell(first, 'referral_date')),
    );
    for (const side of ['left', 'right']) {
      const episode = own.find(row => cell(row, 'foot') === side);
      const id = cell(episode, 'episode_id');
      const start = cell(episode, 'start_date');
      cells.push(...OF_EPISODE.map(field => value(field, cell(episode, field))));
      const seen = rowsOf(visits, id);
      for (let n = 0; n < VISITS; n++)
        cells.push(...OF_VISIT.map(field => value(field, cell(seen[n], field))));
      const spells = rowsOf(phases, id);
      for (let n = 0; n < PHASES; n++) {
        cells.push(american(cell(spells[n], 'start_date')), american(cell(spells[n], 'end_date')));
        cells.push(cell(spells[n], 'prescribed_hours'));
      }
      const happened = rowsOf(events, id);
      for (let n = 0; n < EVENTS; n++) {
        const one = happened[n];
        cells.push(american(cell(one, 'date')), cell(one, 'kind'), cell(one, 'hours_off'));
        cells.push(american(cell(one, 'review_date')), cell(one, 'cause'));
      }
      for (const source of SOURCES) {
        const worn = new Map(
          rowsOf(wear, id)
            .filter(row => cell(row, 'source') === source)
            .map(row => [daysBetween(start, cell(row, 'date')), cell(row, 'hours_worn')]),
        );
        for (let n = 0; n <= LAST_DAY; n++) cells.push(worn.get(n) ?? '');
      }
    }
    return cells;
  });
  return { 'register.csv': separated([header, ...rows], ',') };
}
