import type { Table } from '../dictionary/field.ts';
import type { Origins } from '../reading/origins.ts';
import type { Problem, TableName } from '../records.ts';
import type { ProblemCollector } from './collector.ts';
import { HIDDEN, shownCode, shownValue, spokenProblem } from './problem.ts';

/** The rows of the tables read so far, where they are numbered. */
export type OriginsOf = (table: TableName) => Origins | undefined;

/**
 * Takes in problems of a table whose rows are numbered, and names the file, line, column and text that each row comes
 * from in place of the table, the number, the field and the value.
 */
export function relocating(
  collector: ProblemCollector,
  table: Table,
  originsOf: OriginsOf,
): ProblemCollector {
  return { ...collector, add: found => collector.add(relocated(found, table, originsOf)) };
}

function relocated(found: Problem, table: Table, originsOf: OriginsOf): Problem {
  const row = found.line;
  const origins = originsOf(table.name);
  const origin = row === undefined ? undefined : origins?.of(row);
  if (row === undefined || origin === undefined || found.file !== table.file) return found;
  const { file, line } = origin;
  const names = found.field?.split(' + ') ?? [];
  const places = names.map(name => table.fields.findIndex(field => field.name === name));
  const place = places.length === 1 ? (places[0] ?? -1) : -1;
  const field =
    names.length === 0
      ? undefined
      : names.map((name, k) => file.columns[places[k] ?? -1] ?? name).join(' + ');
  const original = origins?.original(row, place) ?? '';
  const isCode = table.fields[place]?.type === 'code';
  const shown = isCode ? shownCode : (text: string) => shownValue(text, false);
  const value =
    found.value === undefined || found.value === HIDDEN || original === '' ? found.value : shown(original);
  const said = (text: string): string => inOriginalLines(text, file.label, origins, originsOf);
  const allowed = CELL_KINDS.has(found.kind) ? (file.allowed[place] ?? found.allowed) : said(found.allowed);
  return {
    ...spokenProblem(
      found.kind,
      found.severity,
      { file: file.label, line, field, value },
      said(whatOf(found)),
      allowed,
    ),
    table: table.name,
    row,
  };
}

/** Kinds whose `allowed` tells what a cell may hold. */
const CELL_KINDS = new Set([
  'missing-value',
  'not-a-date',
  'not-a-number',
  'not-yes-or-no',
  'not-an-allowed-word',
]);

/** What a message says of its subject: the part between the value and `; allowed:`. */
function whatOf(found: Problem): string {
  const { file, line, field, value } = found;
  const head = spokenProblem(found.kind, found.severity, { file, line, field, value }, '', '').message;
  const start = head.length - '; allowed: '.length;
  return found.message
    .slice(start, found.message.length - found.allowed.length - '; allowed: '.length)
    .trim();
}

/** Row numbers in a text as lines of the files they stand in; another file is named. */
function inOriginalLines(
  text: string,
  label: string,
  origins: Origins | undefined,
  originsOf: OriginsOf,
): string {
  return text.replace(
    /(?:(\w+)\.csv, )?\bline (\d+)/g,
    (whole, table: TableName | undefined, row: string) => {
      const origin = (table === undefined ? origins : originsOf(table))?.of(Number(row));
      if (origin === undefined) return whole;
      return origin.file.label === label
        ? `line ${origin.line}`
        : `${origin.file.label}, line ${origin.line}`;
    },
  );
}
