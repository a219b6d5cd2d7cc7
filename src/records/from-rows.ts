import { ColumnTable } from 'arquero';
import { codedColumn, interner } from './coded-column.ts';
import { DICTIONARY } from './dictionary.ts';
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

/**
 * Records made of rows at hand, all taken as accepted: nothing is checked. For tests, and for data that a program made.
 * There is no file, so the hashes are empty text.
 */
export function recordsFromRows(given: GivenRows): ExportRecords {
  const { episodes, assessments = [], phases = [], wear = [], events = [], cutOff, service } = given;
  const rows: Readonly<Record<TableName, readonly object[]>> = {
    episodes,
    assessments,
    phases,
    wear,
    events,
  };
  return {
    service,
    cutOff: cutOff ?? latestDate(rows),
    cutOffGiven: cutOff !== undefined,
    exportedAt: undefined,
    tables: {
      episodes: tableOf('episodes', episodes),
      assessments: tableOf('assessments', assessments),
      phases: tableOf('phases', phases),
      wear: wearTableOf(wear),
      events: tableOf('events', events),
    },
    problems: [],
    problemCounts: [],
    refusedLines: {
      episodes: new Int32Array(0),
      assessments: new Int32Array(0),
      phases: new Int32Array(0),
      wear: new Int32Array(0),
      events: new Int32Array(0),
    },
    headerLines: {
      episodes: undefined,
      assessments: undefined,
      phases: undefined,
      wear: undefined,
      events: undefined,
    },
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

function latestDate(tables: Readonly<Record<TableName, readonly object[]>>): number {
  let latest = 0;
  for (const [name, rows] of Object.entries(tables) as readonly [TableName, readonly object[]][]) {
    for (const field of DICTIONARY[name].fields.filter(field => field.type === 'date')) {
      for (const row of rows as readonly Readonly<Record<string, unknown>>[]) {
        const date = row[field.name];
        if (typeof date === 'number' && date > latest) latest = date;
      }
    }
  }
  return latest;
}

function tableOf(table: TableName, rows: readonly object[]): ColumnTable {
  const names = DICTIONARY[table].fields.filter(field => field.dropped !== true).map(field => field.name);
  const columns: Record<string, unknown[]> = {};
  for (const name of names) {
    columns[name] = (rows as readonly Readonly<Record<string, unknown>>[]).map(row => row[name]);
  }
  return new ColumnTable(columns, names);
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
