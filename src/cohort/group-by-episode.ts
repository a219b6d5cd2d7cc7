/** By code point; codes are ASCII, so comparing code units is the same. */
export function compareCodes(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** The rows of each episode, in the order given, in one pass. */
export function groupByEpisode<Row extends { readonly episode_id: string }>(
  rows: readonly Row[],
): ReadonlyMap<string, readonly Row[]> {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const group = groups.get(row.episode_id);
    if (group === undefined) groups.set(row.episode_id, [row]);
    else group.push(row);
  }
  return groups;
}
