import type { SourceFile } from '../records.ts';
import type { ReadTable } from './read-table.ts';

/** A file as it was read; which of its rows were refused is told from the tables. */
export type ReadSource = Omit<SourceFile, 'refusedLines'>;

/** The files behind the tables, each with the lines of which anything was refused. */
export function sourceFiles(
  sources: readonly ReadSource[],
  tables: readonly ReadTable[],
): readonly SourceFile[] {
  const refused = new Map<string, Map<number, number>>();
  for (const { rows, refused: flags, lines, origins } of tables) {
    for (let row = 0; row < rows; row++) {
      if (flags[row] === 0) continue;
      const origin = origins?.of(lines[row] ?? 0);
      if (origin === undefined) continue;
      const ranges = refused.get(origin.file.label) ?? new Map<number, number>();
      refused.set(origin.file.label, ranges.set(origin.line, origin.lastLine));
    }
  }
  return sources.map(source => ({
    ...source,
    refusedLines: Int32Array.from([...(refused.get(source.file) ?? [])].sort(([a], [b]) => a - b).flat()),
  }));
}
