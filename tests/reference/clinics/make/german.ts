import { canonicalRows, cell, dated, separated } from './canonical.ts';

const GERMAN: Readonly<Record<string, string>> = {
  left: 'links',
  right: 'rechts',
  female: 'weiblich',
  male: 'männlich',
  finished: 'abgeschlossen',
  'referred for casting': 'Gips',
  'referred for surgery': 'Operation',
  withdrawn: 'abgebrochen',
  'moved away': 'umgezogen',
  'lost to follow-up': 'nicht erschienen',
  yes: 'ja',
  no: 'nein',
  baseline: 'Erstuntersuchung',
  checkup: 'Kontrolle',
  unscheduled: 'außerplanmäßig',
  discharge: 'Abschluss',
  'follow-up': 'Nachsorge',
  'past straight': 'über gerade',
  'to straight': 'bis gerade',
  'short of straight': 'unter gerade',
  start: 'Beginn',
  continue: 'weiter',
  'step down': 'reduzieren',
  'return to full time': 'zurück auf Vollzeit',
  finish: 'beenden',
  refer: 'überweisen',
  sensor: 'Sensor',
  diary: 'Tagebuch',
  recall: 'Befragung',
  'slight redness': 'leichte Rötung',
  'strong redness': 'starke Rötung',
  blister: 'Blase',
  'pressure sore': 'Druckstelle',
  'brace pulled off': 'abgezogen',
  'unplanned pause': 'ungeplante Pause',
  'strap too tight': 'Riemen zu eng',
  'poor fit': 'schlechter Sitz',
  'sock fold': 'Sockenfalte',
  'not known': 'unbekannt',
  'not recorded': 'k. A.',
};
export const GERMAN_WORDS = GERMAN;

const COLUMNS = {
  episodes: {
    Fall: 'episode_id',
    Kind: 'infant_id',
    Standort: 'site_id',
    Therapeut: 'clinician_id',
    Fuß: 'foot',
    Geschlecht: 'sex',
    'Alter in Tagen': 'age_at_start_days',
    Schwangerschaftswochen: 'gestational_weeks',
    'Überweisung am': 'referral_date',
    Therapiebeginn: 'start_date',
    Therapieende: 'end_date',
    'Grund des Endes': 'end_reason',
    'Eltern legen an': 'teach_back',
    Foto: 'baseline_photo',
    'Knöchel geöffnet': 'ankle_opened',
    'Zeh entlastet': 'toe_relieved',
  },
  assessments: {
    Fall: 'episode_id',
    Datum: 'date',
    Untersucher: 'assessor_id',
    Anlass: 'kind',
    Fersenlinie: 'bisector_position',
    'Winkel in Grad': 'bisector_angle_degrees',
    Beweglichkeit: 'flexibility',
    Falte: 'medial_crease',
    Entscheidung: 'decision',
  },
  phases: { Fall: 'episode_id', von: 'start_date', bis: 'end_date', 'Stunden verordnet': 'prescribed_hours' },
  wear: { Fall: 'episode_id', Datum: 'date', Quelle: 'source', 'Stunden getragen': 'hours_worn' },
  events: {
    Fall: 'episode_id',
    Datum: 'date',
    Ereignis: 'kind',
    'Stunden ohne': 'hours_off',
    'Nachschau am': 'review_date',
    Ursache: 'cause',
  },
} as const;

const FILES = {
  episodes: 'Behandlungen.csv',
  assessments: 'Untersuchungen.csv',
  phases: 'Verordnungen.csv',
  wear: 'Tragezeiten.csv',
  events: 'Ereignisse.csv',
} as const;

/** German words, semicolons, decimal commas, days before months, Windows-1252; a column of names stands among them. */
export function german(): Readonly<Record<string, Buffer>> {
  const files: Record<string, Buffer> = {};
  for (const table of ['episodes', 'assessments', 'phases', 'wear', 'events'] as const) {
    const columns = Object.entries(COLUMNS[table]);
    const named = table === 'episodes';
    const header = [...columns.map(([name]) => name), ...(named ? ['Name der Mutter'] : [])];
    const rows = canonicalRows(table).map((row, i) => [
      ...columns.map(([, field]) => inGerman(field, cell(row, field))),
      ...(named ? [`Anna Beispiel-${i}`] : []),
    ]);
    // Characters of Windows-1252 up to the umlauts are those of Latin 1.
    files[FILES[table]] = Buffer.from(separated([header, ...rows], ';', '\r\n'), 'latin1');
  }
  return files;
}

function inGerman(field: string, text: string): string {
  if (field.endsWith('date')) return dated(text, (y, m, d) => `${d}.${m}.${y}`);
  if (/hours|angle|position/.test(field)) return text.replace('.', ',');
  return field.endsWith('_id') ? text : (GERMAN[text] ?? text);
}
