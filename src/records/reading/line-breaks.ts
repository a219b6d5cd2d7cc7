/** Line breaks within the cells of one row. */
export function lineBreaks(cells: readonly string[]): number {
  let breaks = 0;
  for (const cell of cells) {
    if (cell.includes('\n') || cell.includes('\r')) breaks += cell.match(/\r\n|\n|\r/g)?.length ?? 0;
  }
  return breaks;
}
