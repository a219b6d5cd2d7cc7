import type { Table } from '../dictionary/field.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import { duplicateHeader, missingColumn, noKnownColumn } from '../problems/files.ts';

export interface Header {
  /** For each field of the table its place in a row, -1 if there is no such column; undefined if no row can be read. */
  readonly places: Int32Array | undefined;
  readonly width: number;
  /** Columns that the dictionary does not know, each once, in their order. */
  readonly extraColumns: readonly string[];
}

/** Finds the fields of a table in a header, whatever their order, and names what stands in the way of reading rows. */
export function readHeader(table: Table, cells: readonly string[], problems: ProblemCollector): Header {
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
        problems.add(duplicateHeader(table.file, field.name));
        readable = false;
      }
    }
  }
  if (found === 0) problems.add(noKnownColumn(table.file));
  else for (const name of absent) problems.add(missingColumn(table.file, name));
  const known = new Set(table.fields.map(field => field.name));
  // Without a single known column the first line is perhaps no header but data, and not to be shown.
  const extraColumns = found === 0 ? [] : [...new Set(names.filter(name => name !== '' && !known.has(name)))];
  return { places: readable && absent.length === 0 ? places : undefined, width: cells.length, extraColumns };
}
