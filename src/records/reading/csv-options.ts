/** Longest row that is read, in bytes. */
export const LONGEST_ROW = 1_048_576;

/** How csv-parse reads a file of an export. The number of cells is checked by us, so that its problem has a name. */
export function csvOptions(delimiter: string) {
  return {
    bom: true,
    delimiter,
    record_delimiter: ['\r\n', '\n', '\r'],
    relax_column_count: true,
    relax_quotes: true,
    max_record_size: LONGEST_ROW,
  };
}
