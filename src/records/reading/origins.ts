import type { Interner } from '../coded-column.ts';
import { interner } from '../coded-column.ts';
import type { GrowingColumn } from './growing.ts';
import { growingColumn } from './growing.ts';

/** A file that rows of a table come from. */
export interface OriginFile {
  /** As problems name it. */
  readonly label: string;
  /** For each field of the table the name of its column in the file, if it comes from one. */
  readonly columns: readonly (string | undefined)[];
  /** For each field what its column may hold, where that is not what the dictionary says. */
  readonly allowed: readonly (string | undefined)[];
}

export interface Origin {
  readonly file: OriginFile;
  readonly line: number;
  readonly lastLine: number;
}

/**
 * Where the rows of a table stand in the files that they come from, for tables made of several files or through a
 * mapping. Every row has a number, from 1, which takes the place of its line while the table is checked.
 */
export interface Origins {
  /** Gives the next row its number. `originals` are its texts by field, before they were translated. */
  add(file: OriginFile, line: number, lastLine: number, originals?: readonly string[]): number;
  of(row: number): Origin | undefined;
  /** The text of a field as it stood in the file; undefined if it was not kept. */
  original(row: number, field: number): string | undefined;
}

export function rowOrigins(): Origins {
  const files: OriginFile[] = [];
  const fileOf = growingColumn('whole');
  const lines = growingColumn('whole');
  const lastLines = growingColumn('whole');
  // Texts recur, so each is kept once and a row keeps its place among them.
  const texts: Interner[] = [];
  const textOf: GrowingColumn[] = [];
  let rows = 0;
  return {
    add(file, line, lastLine, originals) {
      if (files.at(-1) !== file) files.push(file);
      fileOf.push(files.length - 1);
      lines.push(line);
      lastLines.push(lastLine);
      if (originals !== undefined) {
        for (const [k, text] of originals.entries()) {
          const column = (textOf[k] ??= filled(rows));
          column.push((texts[k] ??= interner()).code(text));
        }
      } else for (const column of textOf) column.push(-1);
      return ++rows;
    },
    of(row) {
      const file = files[fileOf.values()[row - 1] ?? -1];
      if (file === undefined) return undefined;
      return { file, line: lines.values()[row - 1] ?? 0, lastLine: lastLines.values()[row - 1] ?? 0 };
    },
    original: (row, field) => texts[field]?.labels[textOf[field]?.values()[row - 1] ?? -1],
  };
}

function filled(rows: number): GrowingColumn {
  const column = growingColumn('whole');
  for (let row = 0; row < rows; row++) column.push(-1);
  return column;
}
