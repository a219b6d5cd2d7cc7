import type { Plan } from '../../plan/plan.ts';
import type { Interner } from '../coded-column.ts';
import { interner } from '../coded-column.ts';
import type { Checking } from '../checks/checking.ts';
import { checkAssessments, checkEvents, checkWear } from '../checks/dated-tables.ts';
import type { EpisodeIndex } from '../checks/episode-index.ts';
import { episodeIndex } from '../checks/episode-index.ts';
import { checkEpisodes } from '../checks/episodes.ts';
import { checkPhases } from '../checks/phases.ts';
import { DICTIONARY } from '../dictionary.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import { problemCollector } from '../problems/collector.ts';
import { missingTable, noEpisodesFile } from '../problems/files.ts';
import type { ExportRecords, RowCount, TableName } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import { acceptedTable, acceptedWear, latestDate, refusedLines } from './accepted.ts';
import { readDescription } from './description.ts';
import type { ReadTable, TableReader } from './read-table.ts';
import { tableReader } from './read-table.ts';

/** The reading of one export: the tables are given one after the other in the order of `TABLE_NAMES`. */
export interface ExportReading {
  /** Starts a table; its reader takes the rows. */
  open(name: TableName): TableReader;
  /** Ends the table opened last and checks it; `sha256` is that of its bytes. */
  close(sha256: string): void;
  /** The export has no such file. */
  absent(name: TableName): void;
  /** All tables were given. */
  finish(): ExportRecords;
}

/**
 * Starts to read an export whose `export.yaml` holds the text `description`.
 * `open` and `close` throw `UnusableExport` when nothing can be made of the export.
 */
export function startReading(plan: Plan, description: string | undefined): ExportReading {
  const problems = problemCollector();
  const about = readDescription(description, problems);
  const episodeCodes: Interner = interner();
  const tables = new Map<TableName, { data: ReadTable; sha256: string }>();
  let index: EpisodeIndex | undefined;
  let current: { name: TableName; reader: TableReader } | undefined;

  const newReader = (name: TableName): TableReader =>
    tableReader(DICTIONARY[name], { problems, episodeCodes, cutOff: about.cutOff });

  const check = (name: TableName, data: ReadTable): void => {
    const checking = { data, problems };
    if (name === 'episodes') {
      checkEpisodes(checking);
      index = episodeIndex(checking);
    } else if (index !== undefined) checkAgainstEpisodes(name, checking, index, plan);
  };

  return {
    open(name) {
      current = { name, reader: newReader(name) };
      return current.reader;
    },
    close(sha256) {
      if (current === undefined) throw new Error('close was called before open');
      const { name, reader } = current;
      const data = reader.end();
      if (name === 'episodes') refuseUnusable(problems);
      check(name, data);
      tables.set(name, { data, sha256 });
      current = undefined;
    },
    absent(name) {
      if (name === 'episodes') throw new UnusableExport([noEpisodesFile()]);
      problems.add(missingTable(DICTIONARY[name].file));
      tables.set(name, { data: withoutRows(name, problems, episodeCodes), sha256: '' });
    },
    finish() {
      const table = (name: TableName) => {
        const found = tables.get(name);
        if (found === undefined) throw new Error(`the table ${name} was not given`);
        return found;
      };
      const each = <Value>(make: (name: TableName) => Value): Record<TableName, Value> => ({
        episodes: make('episodes'),
        assessments: make('assessments'),
        phases: make('phases'),
        wear: make('wear'),
        events: make('events'),
      });
      const frames = each(name =>
        name === 'wear' ? acceptedWear(table(name).data) : acceptedTable(table(name).data),
      );
      const latest = TABLE_NAMES.map(name => latestDate(table(name).data) ?? 0);
      return {
        service: about.service,
        cutOff: about.cutOff ?? Math.max(...latest),
        cutOffGiven: about.cutOff !== undefined,
        exportedAt: about.exportedAt,
        tables: frames,
        problems: problems.problems,
        problemCounts: problems.counts(),
        refusedLines: each(name => refusedLines(table(name).data)),
        headerLines: each(name => table(name).data.headerLines),
        counts: each(name => countRows(table(name).data, table(name).sha256, frames[name].numRows())),
      };
    },
  };
}

function checkAgainstEpisodes(
  name: Exclude<TableName, 'episodes'>,
  checking: Checking,
  index: EpisodeIndex,
  plan: Plan,
): void {
  if (name === 'assessments') checkAssessments(checking, index);
  else if (name === 'phases') checkPhases(checking, index, plan);
  else if (name === 'wear') checkWear(checking, index);
  else checkEvents(checking, index);
}

const UNUSABLE = new Set(['empty-file', 'no-known-column', 'not-utf-8']);

/** Nothing can be made of an export whose episodes cannot be told at all. */
function refuseUnusable(problems: ProblemCollector): void {
  const reasons = problems.problems.filter(({ file, kind }) => file === 'episodes.csv' && UNUSABLE.has(kind));
  if (reasons.length > 0) throw new UnusableExport(reasons);
}

function withoutRows(name: TableName, problems: ProblemCollector, episodeCodes: Interner): ReadTable {
  const silent: ProblemCollector = { ...problems, add: () => {} };
  return tableReader(DICTIONARY[name], { problems: silent, episodeCodes, cutOff: undefined }).end();
}

function countRows(data: ReadTable, sha256: string, accepted: number): RowCount {
  const refused = data.refused.reduce((sum, flag) => sum + flag, 0);
  const { file } = data.table;
  if (data.rows !== accepted + refused) {
    throw new Error(`${file}: ${data.rows} rows read, but ${accepted} accepted and ${refused} refused`);
  }
  return { file, read: data.rows, accepted, refused, sha256, extraColumns: data.extraColumns };
}
