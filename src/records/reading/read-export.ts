import type { Plan } from '../../plan/plan.ts';
import type { Interner } from '../coded-column.ts';
import { interner } from '../coded-column.ts';
import type { Checking } from '../checks/checking.ts';
import { checkAssessments, checkEvents, checkWear } from '../checks/dated-tables.ts';
import type { EpisodeIndex } from '../checks/episode-index.ts';
import { episodeIndex } from '../checks/episode-index.ts';
import { checkEpisodes } from '../checks/episodes.ts';
import { checkConsistency } from '../checks/consistency.ts';
import { checkPhases } from '../checks/phases.ts';
import { DICTIONARY } from '../dictionary.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import { problemCollector } from '../problems/collector.ts';
import { relocating } from '../problems/relocated.ts';
import { missingTable, noEpisodesFile } from '../problems/files.ts';
import type { ExportRecords, Problem, RowCount, TableName } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import { acceptedTable, acceptedWear, latestDate, refusedLines } from './accepted.ts';
import { readDescription } from './description.ts';
import type { Origins } from './origins.ts';
import { rowOrigins } from './origins.ts';
import type { ReadTable, TableReader } from './read-table.ts';
import { tableReader } from './read-table.ts';
import type { ReadSource } from './source-files.ts';
import { sourceFiles } from './source-files.ts';

/** The reading of one export: the tables are given one after the other in the order of `TABLE_NAMES`. */
export interface ExportReading {
  /** Starts a table; its reader takes the rows. */
  open(name: TableName): TableReader;
  /** Ends the table opened last and checks it; `sha256` is that of its bytes, `label` what it was read from. */
  close(sha256: string, label?: string): void;
  /** The export has no such file, or one that cannot be read for the reason given. */
  absent(name: TableName, why?: Problem): void;
  /** All tables were given; `sources` are the files behind them, where rows are numbered. */
  finish(sources?: readonly ReadSource[]): ExportRecords;
  /** Takes problems of a whole file. */
  readonly problems: ProblemCollector;
}

/**
 * Starts to read an export whose `export.yaml` holds the text `description`. With `numbered` its tables may be made of
 * several files or through a mapping.
 * `open` and `close` throw `UnusableExport` when nothing can be made of the export.
 */
export function startReading(
  plan: Plan,
  description: string | undefined,
  { numbered = false }: { readonly numbered?: boolean } = {},
): ExportReading {
  const problems = problemCollector();
  const about = readDescription(description, problems);
  const episodeCodes: Interner = interner();
  const tables = new Map<TableName, ClosedTable>();
  const origins = new Map<TableName, Origins>();
  let index: EpisodeIndex | undefined;
  let current: { name: TableName; reader: TableReader } | undefined;

  const rowProblems = (name: TableName): ProblemCollector =>
    numbered ? relocating(problems, DICTIONARY[name], table => origins.get(table)) : problems;
  const newReader = (name: TableName, collector: ProblemCollector): TableReader => {
    if (numbered) origins.set(name, rowOrigins());
    return tableReader(DICTIONARY[name], {
      problems: collector,
      rowProblems: rowProblems(name),
      episodeCodes,
      cutOff: about.cutOff,
      origins: origins.get(name),
    });
  };
  const check = (name: TableName, data: ReadTable): void => {
    const checking = { data, problems: rowProblems(name) };
    if (name === 'episodes') {
      checkEpisodes(checking);
      index = episodeIndex(checking);
    } else if (index !== undefined) checkAgainstEpisodes(name, checking, index, plan);
  };

  return {
    problems,
    open(name) {
      current = { name, reader: newReader(name, problems) };
      return current.reader;
    },
    close(sha256, label) {
      if (current === undefined) throw new Error('close was called before open');
      const { name, reader } = current;
      const data = reader.end();
      if (name === 'episodes') refuseUnusable(problems, numbered ? undefined : DICTIONARY[name].file, data);
      check(name, data);
      tables.set(name, { data, sha256, label: label ?? DICTIONARY[name].file });
      current = undefined;
    },
    absent(name, why) {
      const { file } = DICTIONARY[name];
      if (name === 'episodes') throw new UnusableExport([why ?? noEpisodesFile()]);
      problems.add(why ?? missingTable(file));
      const silent: ProblemCollector = { ...problems, add: () => {} };
      tables.set(name, { data: newReader(name, silent).end(), sha256: '', label: file });
    },
    finish(sources) {
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
      if (index !== undefined) {
        const checkings = each(name => ({ data: table(name).data, problems: rowProblems(name) }));
        checkConsistency(checkings, index, plan);
      }
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
        counts: each(name => countRows(table(name), frames[name].numRows())),
        ...(sources === undefined
          ? {}
          : {
              sources: sourceFiles(
                sources,
                TABLE_NAMES.map(name => table(name).data),
              ),
            }),
      };
    },
  };
}

interface ClosedTable {
  readonly data: ReadTable;
  readonly sha256: string;
  readonly label: string;
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

const UNUSABLE = new Set([
  'empty-file',
  'no-known-column',
  'not-utf-8',
  'too-many-columns',
  'symbolic-link',
  'changed-while-read',
  'unreadable-workbook',
]);

/** Nothing can be made of an export whose episodes cannot be told at all. */
function refuseUnusable(problems: ProblemCollector, file: string | undefined, data: ReadTable): void {
  // Where the episodes come from several files, one of them may be at fault and the others not.
  if (file === undefined && data.rows > 0 && data.refused.includes(0)) return;
  const reasons = problems.problems.filter(
    found => (file === undefined || found.file === file) && UNUSABLE.has(found.kind),
  );
  if (reasons.length > 0) throw new UnusableExport(reasons);
}

function countRows({ data, sha256, label }: ClosedTable, accepted: number): RowCount {
  const refused = data.refused.reduce((sum, flag) => sum + flag, 0);
  if (data.rows !== accepted + refused) {
    throw new Error(`${label}: ${data.rows} rows read, but ${accepted} accepted and ${refused} refused`);
  }
  return { file: label, read: data.rows, accepted, refused, sha256, extraColumns: data.extraColumns };
}
