/** What became of the row that begins on a line; a later mark only replaces a lower one. */
export const MARK = { none: 0, row: 1, used: 2, setAside: 3 } as const;

export interface LineMarks {
  mark(line: number, as: number): void;
  count(as: number): number;
}

export function lineMarks(): LineMarks {
  let marks = new Uint8Array(1024);
  return {
    mark(line, as) {
      if (line >= marks.length) {
        const larger = new Uint8Array(Math.max(line + 1, 2 * marks.length));
        larger.set(marks);
        marks = larger;
      }
      if ((marks[line] ?? 0) < as) marks[line] = as;
    },
    count(as) {
      let count = 0;
      for (const mark of marks) if (mark === as) count++;
      return count;
    },
  };
}
