import type { ColumnTable } from 'arquero';

export const TABLE_NAMES = ['episodes', 'assessments', 'phases', 'wear', 'events'] as const;
export type TableName = (typeof TABLE_NAMES)[number];

/** One thing wrong with one value (or row, or file) of an export. */
export interface Problem {
  /** Stable name of the kind of problem, such as `not-a-date`. */
  readonly kind: string;
  /** `refused`: the row is left out and quarantined; `warning`: the row is kept. */
  readonly severity: 'refused' | 'warning';
  readonly file: string;
  /** Line in the file, the header being line 1; undefined for a whole file. */
  readonly line: number | undefined;
  readonly field: string | undefined;
  /** The value as it stood; masked where it may identify a person. */
  readonly value: string | undefined;
  /** What is allowed instead, in words. */
  readonly allowed: string;
  /** The whole sentence for a reader. */
  readonly message: string;
  /** The table of the row, where it cannot be told from the file. */
  readonly table?: TableName;
  /** Tells the row from all others of its table, where its line does not. */
  readonly row?: number;
}

/** One file as it was read, where tables are made of several files or through a mapping. */
export interface SourceFile {
  /** As problems name it. */
  readonly file: string;
  /** Where it was read from. */
  readonly path: string;
  /** Sheet of a workbook. */
  readonly sheet: string | undefined;
  readonly sha256: string;
  readonly header: readonly [number, number] | undefined;
  /** Rows below the header, those set aside not among them. */
  readonly rows: number;
  /** Rows passed over because their correction was read instead. */
  readonly setAside: number;
  /** Rows of which nothing went into any table. */
  readonly unused: number;
  /** First and last line of every row of which something was refused, in pairs, in order. */
  readonly refusedLines: Int32Array;
}

/** How often one kind of problem was found in one file. */
export interface ProblemCount {
  readonly file: string;
  readonly kind: string;
  readonly severity: Problem['severity'];
  readonly count: number;
}

/** Rows of one file: `read` is always `accepted` + `refused`. */
export interface RowCount {
  readonly file: string;
  readonly read: number;
  readonly accepted: number;
  readonly refused: number;
  /** SHA-256 of the bytes read, in hexadecimal; empty if there was no file. */
  readonly sha256: string;
  /** Columns of the file that the dictionary does not know; kept out. */
  readonly extraColumns: readonly string[];
}

/** An export read and checked: what was accepted as data frames, and everything that was not. */
export interface ExportRecords {
  /** Name of the service, from `export.yaml`. */
  readonly service: string | undefined;
  /** Last day of data (days since 1970-01-01): given in `export.yaml`, else the latest date in any table. */
  readonly cutOff: number;
  readonly cutOffGiven: boolean;
  readonly exportedAt: string | undefined;
  /** Accepted rows, one Arquero table each; column names and types as in rows.ts. */
  readonly tables: Readonly<Record<TableName, ColumnTable>>;
  /** Every problem, up to 10,000 of one kind in one file; `problemCounts` counts them all. */
  readonly problems: readonly Problem[];
  readonly problemCounts: readonly ProblemCount[];
  /** Lines of the refused rows, in pairs: first and last line of each, the header being line 1. */
  readonly refusedLines: Readonly<Record<TableName, Int32Array>>;
  /** First and last line of the header of each file, if it has one. */
  readonly headerLines: Readonly<Record<TableName, readonly [number, number] | undefined>>;
  readonly counts: Readonly<Record<TableName, RowCount>>;
  /** The files behind the tables, where a table is not simply the file of its name. */
  readonly sources?: readonly SourceFile[];
  /** SHA-256 of the mapping that the export was read through, if there was one. */
  readonly mappingSha256?: string;
  /** The lists of rows set aside whose corrections were read instead. */
  readonly setAsideLists?: readonly { readonly file: string; readonly sha256: string }[];
}
