/** A row of a file, whatever its format, as text cells. */
export interface SourceRow {
  readonly cells: readonly string[];
  /** First and last line of the file that the row takes, from 1. */
  readonly line: number;
  readonly lastLine: number;
}
