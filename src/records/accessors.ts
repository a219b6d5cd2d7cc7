import type { ColumnTable } from 'arquero';
import { interner, isCodedColumn } from './coded-column.ts';
import type { ExportRecords } from './records.ts';
import type { AssessmentRow, EpisodeRow, EventRow, PhaseRow, WearColumns } from './rows.ts';
import { WEAR_SOURCES } from './rows.ts';

/** The accepted episodes as row objects, in the order of the file (or of the table, if it was sorted). */
export function episodeRows(records: ExportRecords): readonly EpisodeRow[] {
  return records.tables.episodes.objects() as EpisodeRow[];
}

/** The accepted assessments as row objects, in the order of the file. */
export function assessmentRows(records: ExportRecords): readonly AssessmentRow[] {
  return records.tables.assessments.objects() as AssessmentRow[];
}

/** The accepted phase spells as row objects, in the order of the file. */
export function phaseRows(records: ExportRecords): readonly PhaseRow[] {
  return records.tables.phases.objects() as PhaseRow[];
}

/** The accepted events as row objects, in the order of the file. */
export function eventRows(records: ExportRecords): readonly EventRow[] {
  return records.tables.events.objects() as EventRow[];
}

/**
 * The accepted wear log as typed arrays, in the order of the file. The arrays of the table itself are handed out where
 * it holds them (do not write to them); a filtered or sorted table is encoded afresh.
 */
export function wearColumns(records: ExportRecords): WearColumns {
  return ownColumns(records.tables.wear) ?? encoded(records.tables.wear);
}

function ownColumns(table: ColumnTable): WearColumns | undefined {
  if (table.isFiltered() || table.isOrdered()) return undefined;
  const columns: Readonly<Record<string, unknown>> = table.data();
  const { episode_id: episode, date, source, hours_worn: hours } = columns;
  if (!isCodedColumn(episode) || !(episode.codes instanceof Int32Array)) return undefined;
  if (!isCodedColumn(source) || !(source.codes instanceof Uint8Array)) return undefined;
  if (source.labels !== WEAR_SOURCES) return undefined;
  if (!(date instanceof Int32Array) || !(hours instanceof Float64Array)) return undefined;
  return { episodes: episode.labels, episode: episode.codes, date, source: source.codes, hours };
}

function encoded(table: ColumnTable): WearColumns {
  const n = table.numRows();
  const episodes = interner();
  const episode = new Int32Array(n);
  const date = new Int32Array(n);
  const source = new Uint8Array(n);
  const hours = new Float64Array(n);
  const columns = {
    episode: table.getter('episode_id'),
    date: table.getter('date'),
    source: table.getter('source'),
    hours: table.getter('hours_worn'),
  };
  for (let i = 0; i < n; i++) {
    episode[i] = episodes.code(columns.episode(i) as string);
    date[i] = columns.date(i) as number;
    source[i] = WEAR_SOURCES.indexOf(columns.source(i) as (typeof WEAR_SOURCES)[number]);
    hours[i] = columns.hours(i) as number;
  }
  return { episodes: episodes.labels, episode, date, source, hours };
}
