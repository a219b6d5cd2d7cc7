/** Rows of cells as lines of text with the columns aligned: the first `left` to the left, the others to the right. */
export function alignedColumns(rows: readonly (readonly string[])[], left = 1): string {
  const widths: number[] = [];
  for (const row of rows) {
    for (const [k, cell] of row.entries()) widths[k] = Math.max(widths[k] ?? 0, cell.length);
  }
  return rows
    .map(row =>
      row
        .map((cell, k) => (k < left ? cell.padEnd(widths[k] ?? 0) : cell.padStart(widths[k] ?? 0)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

/** A count with the noun in the right number, such as `1 row` or `2,000 rows`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${grouped(count)} ${count === 1 ? one : many}`;
}

/** A whole number with its thousands set apart. */
export function grouped(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, ',');
}
