import { ColumnTable } from 'arquero';
import { codedColumn, interner } from './coded-column.ts';
import type { ExportRecords, RowCount, TableName } from './records.ts';
import type { AssessmentRow, EpisodeRow, EventRow, PhaseRow, WearRow } from './rows.ts';
import { WEAR_SOURCES } from './rows.ts';

/** A row in which a field that may be missing may also be left out. */
export type Given<Row> = {
  readonly [Field in keyof Row as undefined extends Row[Field] ? Field : never]?: Row[Field];
} & { readonly [Field in keyof Row as undefined extends Row[Field] ? never : Field]: Row[Field] };

/** Rows of the five tables; dates are days since 1970-01-01. */
export interface GivenRows {
  readonly episodes: readonly Given<EpisodeRow>[];
  readonly assessments?: readonly Given<AssessmentRow>[];
  readonly phases?: readonly Given<PhaseRow>[];
  readonly wear?: readonly Given<WearRow>[];
  readonly events?: readonly Given<EventRow>[];
  /** Last day of data; else the latest date in any row. */
  readonly cutOff?: number;
  readonly service?: string;
}

const COLUMNS = {
  episodes: [
    'episode_id',
    'infant_id',
    'site_id',
    'clinician_id',
    'foot',
    'sex',
    'age_at_start_days',
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
  events: ['episode_id', 'date', 'kind', 'hours_off', 'review_date', 'cause'],
} as const;

const DATES = ['date', 'start_date', 'end_date', 'referral_date', 'review_date'];

/**
 * Records made of rows at hand, all taken as accepted: nothing is checked. For tests, and for data that a program made.
 * There is no file, so the hashes are empty text.
 */
export function recordsFromRows(given: GivenRows): ExportRecords {
  const { episodes, assessments = [], phases = [], wear = [], events = [], cutOff, service } = given;
  let latest = 0;
  for (const rows of [episodes, assessments, phases, wear, events] as readonly (readonly object[])[]) {
    for (const row of rows as readonly Readonly<Record<string, unknown>>[]) {
      for (const field of DATES) {
        const date = row[field];
        if (typeof date === 'number' && date > latest) latest = date;
      }
    }
  }
  return {
    service,
    cutOff: cutOff ?? latest,
    cutOffGiven: cutOff !== undefined,
    exportedAt: undefined,
    tables: {
      episodes: tableOf(COLUMNS.episodes, episodes),
      assessments: tableOf(COLUMNS.assessments, assessments),
      phases: tableOf(COLUMNS.phases, phases),
      wear: wearTableOf(wear),
      events: tableOf(COLUMNS.events, events),
    },
    problems: [],
    counts: {
      episodes: allAccepted('episodes', episodes.length),
      assessments: allAccepted('assessments', assessments.length),
      phases: allAccepted('phases', phases.length),
      wear: allAccepted('wear', wear.length),
      events: allAccepted('events', events.length),
    },
  };
}

function allAccepted(table: TableName, rows: number): RowCount {
  return { file: `${table}.csv`, read: rows, accepted: rows, refused: 0, sha256: '', extraColumns: [] };
}

function tableOf(names: readonly string[], rows: readonly object[]): ColumnTable {
  const columns: Record<string, unknown[]> = {};
  for (const name of names) {
    columns[name] = (rows as readonly Readonly<Record<string, unknown>>[]).map(row => row[name]);
  }
  return new ColumnTable(columns, [...names]);
}

function wearTableOf(rows: readonly Given<WearRow>[]): ColumnTable {
  const episodes = interner();
  return new ColumnTable({
    episode_id: codedColumn(
      Int32Array.from(rows, row => episodes.code(row.episode_id)),
      episodes.labels,
    ),
    date: Int32Array.from(rows, row => row.date),
    source: codedColumn(
      Uint8Array.from(rows, row => WEAR_SOURCES.indexOf(row.source)),
      WEAR_SOURCES,
    ),
    hours_worn: Float64Array.from(rows, row => row.hours_worn),
  });
}
