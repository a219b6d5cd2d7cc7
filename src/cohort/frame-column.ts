/** What a column of an analysis frame holds. A date is days since 1970-01-01 in memory, a calendar date in files. */
export interface FrameColumn {
  readonly name: string;
  readonly type: 'text' | 'integer' | 'number' | 'yes/no' | 'date';
  readonly unit?: string;
  readonly meaning: string;
}

export interface FrameDescription {
  /** What a row is. */
  readonly row: string;
  readonly columns: readonly FrameColumn[];
}
