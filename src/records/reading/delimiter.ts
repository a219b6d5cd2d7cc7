export const DELIMITERS = [',', ';', '\t'] as const;
export type Delimiter = (typeof DELIMITERS)[number];

/**
 * The separator of a file, told from its first line: the one that splits the line into the most columns that the
 * dictionary knows, a tie going to comma, then semicolon, then tab.
 */
export function detectDelimiter(firstLine: string, columns: ReadonlySet<string>): Delimiter {
  let best: Delimiter = ',';
  let most = 0;
  for (const delimiter of DELIMITERS) {
    const cells = firstLine.split(delimiter).map(cell =>
      cell
        .trim()
        .replace(/^"(.*)"$/, '$1')
        .trim(),
    );
    const known = cells.filter(cell => columns.has(cell)).length;
    if (known > most) {
      best = delimiter;
      most = known;
    }
  }
  return best;
}

/** The first line that is not blank, of a text that may begin with a byte order mark. */
export function firstLine(text: string): string {
  return /[^\r\n\s][^\r\n]*/.exec(text.replace(/^\uFEFF/, ''))?.[0] ?? '';
}
