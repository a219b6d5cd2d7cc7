import type { Table } from '../dictionary/field.ts';
import { identifyingHeader } from '../privacy/identifying-header.ts';
import { identifyingValue } from '../privacy/identifying-value.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import {
  duplicateHeader,
  identifyingColumn,
  missingColumn,
  noKnownColumn,
  tooManyColumns,
} from '../problems/files.ts';
import { HIDDEN, onOneLine } from '../problems/problem.ts';

/** Columns of a header at most; a spreadsheet has no more. */
export const MOST_COLUMNS = 16_384;

export interface Header {
  /** For each field of the table its place in a row, -1 if there is no such column; undefined if no row can be read. */
  readonly places: Int32Array | undefined;
  readonly width: number;
  /** Columns that the dictionary does not know, each once, in their order, as they may be shown. */
  readonly extraColumns: readonly string[];
  /** Places of the extra columns whose header gives nothing away. */
  readonly unknownPlaces: readonly number[];
}

/** Finds the fields of a table in a header, whatever their order, and names what stands in the way of reading rows. */
export function readHeader(
  table: Table,
  cells: readonly string[],
  problems: ProblemCollector,
  line = 1,
): Header {
  const width = cells.length;
  if (width > MOST_COLUMNS) {
    problems.add(tooManyColumns(table.file, line, width, MOST_COLUMNS));
    return { places: undefined, width, extraColumns: [], unknownPlaces: [] };
  }
  const names = cells.map(cell => cell.trim());
  const places = new Int32Array(table.fields.length);
  let readable = true;
  let found = 0;
  const absent: string[] = [];
  for (const [k, field] of table.fields.entries()) {
    places[k] = names.indexOf(field.name);
    if (places[k] === -1) {
      if (field.required) absent.push(field.name);
    } else {
      if (field.required) found++;
      if (names.indexOf(field.name, (places[k] ?? 0) + 1) !== -1) {
        problems.add(duplicateHeader(table.file, line, field.name));
        readable = false;
      }
    }
  }
  if (found === 0) problems.add(noKnownColumn(table.file, line));
  else for (const name of absent) problems.add(missingColumn(table.file, line, name));
  // Without a single known column the first line is perhaps no header but data, and not to be shown.
  const extra = found === 0 ? [] : extraPlaces(table, names);
  const unknownPlaces: number[] = [];
  for (const place of extra) {
    const what = identifyingHeader(names[place] ?? '');
    if (what === undefined) unknownPlaces.push(place);
    else problems.add(identifyingColumn(table.file, line, shownColumn(names[place] ?? ''), what, 'header'));
  }
  return {
    places: readable && absent.length === 0 ? places : undefined,
    width,
    extraColumns: extra.map(place => shownColumn(names[place] ?? '')),
    unknownPlaces,
  };
}

/** A column as it may be shown: hidden if it looks like a value rather than a header. */
export function shownColumn(name: string): string {
  const what = identifyingValue(name);
  return what === undefined || what === 'name' ? onOneLine(name) : HIDDEN;
}

function extraPlaces(table: Table, names: readonly string[]): readonly number[] {
  const seen = new Set(table.fields.map(field => field.name));
  const places: number[] = [];
  for (const [place, name] of names.entries()) {
    if (name === '' || seen.has(name)) continue;
    seen.add(name);
    places.push(place);
  }
  return places;
}
