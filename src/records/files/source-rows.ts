import type { SourceSpec } from '../mapping/mapping.ts';
import { formatOf } from '../mapping/read-mapping.ts';
import { notInEncoding, unreadableRest } from '../problems/files.ts';
import { MOST_COLUMNS } from '../reading/header.ts';
import { lineBreaks } from '../reading/line-breaks.ts';
import type { Problem, TableName } from '../records.ts';
import { csvRows } from './csv-rows.ts';
import { fhirRows } from './fhir-rows.ts';
import type { Inspected } from './inspect.ts';
import { inspect } from './inspect.ts';
import type { SourceRow } from './source-row.ts';
import { openWorkbook, sheetRows } from './workbook.ts';

/** Takes in a file, its header first. */
export interface RowSink {
  header(row: SourceRow): void;
  row(row: SourceRow): void;
  /** A row that is for another table. */
  other(row: SourceRow): void;
  /** A row that is none of its format. */
  badRow(row: SourceRow, why: Problem): void;
  /** The rest from a line on cannot be read. */
  broken(line: number, why: Problem): void;
}

/** A file of a mapping, ready to be read as often as there are tables made of it. */
export interface OpenSource {
  readonly sha256: string;
  readonly sheet: string | undefined;
  /** @param table the table that the rows are for; a FHIR file holds those of all tables */
  read(table: TableName, sink: RowSink): Promise<void>;
}

/** Opens a file in the format that a mapping names; a file of corrected rows is CSV whatever it was made of. */
export async function openSource(path: string, label: string, spec: SourceSpec): Promise<OpenSource> {
  const format = spec.format ?? formatOf(spec.file);
  if (format === 'xlsx' && /\.xlsx$/i.test(path)) {
    const book = await openWorkbook(path, label);
    const sheet = spec.sheet ?? '';
    return {
      sha256: book.sha256,
      sheet,
      async read(_, sink) {
        const give = headerFirst(sink, spec.header);
        for await (const row of sheetRows(book, sheet, label)) give(row);
      },
    };
  }
  if (format === 'fhir') {
    const bytes = await inspect(path);
    return {
      sha256: bytes.sha256,
      sheet: undefined,
      read: (table, sink) =>
        bytes.readable ? fhirRows(path, label, table, sink) : refuseWhole(label, 'UTF-8', sink),
    };
  }
  const encoding = format === 'xlsx' ? 'utf-8' : (spec.encoding ?? 'utf-8');
  const bytes = await inspect(path, encoding);
  const delimiter = format === 'xlsx' ? ',' : (spec.delimiter ?? likelyDelimiter(bytes.head, spec.header));
  return {
    sha256: bytes.sha256,
    sheet: undefined,
    read: (_, sink) =>
      bytes.readable
        ? csvSource(path, label, bytes, { delimiter, header: spec.header }, sink)
        : refuseWhole(label, encoding, sink),
  };
}

async function refuseWhole(label: string, encoding: string, sink: RowSink): Promise<void> {
  sink.broken(1, notInEncoding(label, encoding.toUpperCase()));
}

async function csvSource(
  path: string,
  label: string,
  bytes: Inspected,
  { delimiter, header }: { readonly delimiter: string; readonly header: number | undefined },
  sink: RowSink,
): Promise<void> {
  const give = headerFirst(sink, header);
  let line = 1;
  const broken = await csvRows(path, bytes, delimiter, label, cells => {
    const breaks = lineBreaks(cells);
    give({ cells, line, lastLine: line + breaks });
    line += 1 + breaks;
  });
  if (broken !== undefined) sink.broken(line, unreadableRest(label, line, broken));
}

/** Passes blank rows over and what stands above the header, and tells the header from the rows. */
function headerFirst(sink: RowSink, header = 1): (row: SourceRow) => void {
  let started = false;
  return row => {
    if (row.line < header) return;
    if (row.cells.every(cell => cell.trim() === '')) return;
    if (started) sink.row(row);
    else
      sink.header(
        row.cells.length > MOST_COLUMNS ? { ...row, cells: row.cells.slice(0, MOST_COLUMNS) } : row,
      );
    started = true;
  };
}

const DELIMITERS = [',', ';', '\t', '|'] as const;

/** The separator that stands most often in the first line, or that of the header, outside quotation marks. */
export function likelyDelimiter(head: string, header?: number): string {
  const lines = head.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const first = header === undefined ? lines.find(text => text !== '') : lines[header - 1];
  const line = (first ?? '').replace(/"[^"]*"/g, '');
  let best = ',';
  for (const delimiter of DELIMITERS) {
    if (line.split(delimiter).length > line.split(best).length) best = delimiter;
  }
  return best;
}
