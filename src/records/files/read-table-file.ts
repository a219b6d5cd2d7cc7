import { DICTIONARY } from '../dictionary.ts';
import { notUtf8 } from '../problems/files.ts';
import { detectDelimiter, firstLine } from '../reading/delimiter.ts';
import type { TableReader } from '../reading/read-table.ts';
import type { TableName } from '../records.ts';
import { csvRows } from './csv-rows.ts';
import type { Inspected } from './inspect.ts';
import { inspect } from './inspect.ts';

const ROWS_BETWEEN_PROGRESS = 65_536;

/** Gives the rows of one file in the layout of the dictionary to the reader of its table; gives the hash of the bytes. */
export async function readTableFile(
  path: string,
  label: string,
  name: TableName,
  reader: TableReader,
  onProgress: (file: string, rows: number) => void,
  inspected?: Inspected,
): Promise<string> {
  const bytes = inspected ?? (await inspect(path));
  if (!bytes.readable) {
    reader.broken(notUtf8(label));
    return bytes.sha256;
  }
  const columns = new Set(DICTIONARY[name].fields.map(field => field.name));
  const delimiter = detectDelimiter(firstLine(bytes.head), columns);
  let next = reader.rowsSoFar + ROWS_BETWEEN_PROGRESS;
  const broken = await csvRows(path, bytes, delimiter, label, cells => {
    reader.row(cells);
    if (reader.rowsSoFar >= next) {
      onProgress(label, reader.rowsSoFar);
      next += ROWS_BETWEEN_PROGRESS;
    }
  });
  if (broken !== undefined) reader.broken(broken);
  return bytes.sha256;
}
