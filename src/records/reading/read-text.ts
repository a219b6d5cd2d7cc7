import { CsvError, parse } from 'csv-parse/browser/esm/sync';
import type { Plan } from '../../plan/plan.ts';
import { defaultPlan } from '../../plan/plan.ts';
import { sha256 } from '../../plan/sha256.ts';
import { DICTIONARY } from '../dictionary.ts';
import type { ExportRecords, TableName } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { csvOptions, LONGEST_ROW } from './csv-options.ts';
import { detectDelimiter, firstLine } from './delimiter.ts';
import type { TableReader } from './read-table.ts';
import { startReading } from './read-export.ts';

/** The files of an export as text; `description` is the text of `export.yaml`. */
export type ExportTexts = Readonly<Partial<Record<TableName, string>>> & { readonly description?: string };

/**
 * Reads and checks an export that is at hand as text, in a browser or anywhere: the same checks as for files.
 * The hashes are of the texts in UTF-8.
 *
 * @throws UnusableExport if there are no episodes, or no required column of theirs
 */
export function readExportFromText(
  texts: ExportTexts,
  options: { readonly plan?: Plan } = {},
): ExportRecords {
  const reading = startReading(options.plan ?? defaultPlan(), texts.description);
  for (const name of TABLE_NAMES) {
    const text = texts[name];
    if (text === undefined) reading.absent(name);
    else {
      readRows(text, name, reading.open(name));
      reading.close(sha256(text));
    }
  }
  return reading.finish();
}

function readRows(text: string, name: TableName, reader: TableReader): void {
  const columns = new Set(DICTIONARY[name].fields.map(field => field.name));
  const rows: string[][] = [];
  const end = startOfLongLine(text);
  try {
    parse(end === undefined ? text : text.slice(0, end), {
      ...csvOptions(detectDelimiter(firstLine(text), columns)),
      on_record: (cells: string[]) => {
        rows.push(cells);
        return null;
      },
    });
    for (const cells of rows) reader.row(cells);
    if (end !== undefined) reader.broken('length');
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    for (const cells of rows) reader.row(cells);
    reader.broken(end !== undefined || error.code === 'CSV_MAX_RECORD_SIZE' ? 'length' : 'quote');
  }
}

/** Where the first line begins that is longer than a row may be: a parser would hold a cell for every separator in it. */
function startOfLongLine(text: string): number | undefined {
  let start = 0;
  let lf = text.indexOf('\n');
  let cr = text.indexOf('\r');
  while (text.length - start > LONGEST_ROW) {
    // Each is looked for again only once it is passed, and not at all once there is none left.
    if (lf !== -1 && lf < start) lf = text.indexOf('\n', start);
    if (cr !== -1 && cr < start) cr = text.indexOf('\r', start);
    const end = lf === -1 || cr === -1 ? Math.max(lf, cr) : Math.min(lf, cr);
    if (end === -1 || end - start > LONGEST_ROW) return start;
    start = end + 1;
  }
  return undefined;
}
