/** A text column held as whole-number codes: row i has the text `labels[codes[i]]`. Serves Arquero as a column. */
export interface CodedColumn {
  readonly codes: Int32Array | Uint8Array;
  readonly labels: readonly string[];
  readonly length: number;
  at(row: number): string | undefined;
  [Symbol.iterator](): Iterator<string | undefined>;
}

/** A column of `codes.length` rows; `codes` and `labels` are kept, not copied. */
export function codedColumn(codes: Int32Array | Uint8Array, labels: readonly string[]): CodedColumn {
  const at = (row: number): string | undefined => labels[codes[row] ?? -1];
  return {
    codes,
    labels,
    length: codes.length,
    at,
    *[Symbol.iterator]() {
      for (let row = 0; row < codes.length; row++) yield at(row);
    },
  };
}

export function isCodedColumn(column: unknown): column is CodedColumn {
  return typeof column === 'object' && column !== null && 'codes' in column && 'labels' in column;
}

/** Gives every distinct text a code, in order of first appearance. */
export interface Interner {
  readonly labels: readonly string[];
  code(text: string): number;
}

export function interner(): Interner {
  const codes = new Map<string, number>();
  const labels: string[] = [];
  return {
    labels,
    code(text) {
      let code = codes.get(text);
      if (code === undefined) {
        code = labels.length;
        codes.set(text, code);
        labels.push(text);
      }
      return code;
    },
  };
}
