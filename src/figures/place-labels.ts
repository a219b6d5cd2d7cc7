/**
 * Moves labels apart as little as they need: each wants to stand at its place, none closer than `gap` to the next, all
 * between `top` and `bottom` (where there is room for that). Neighbours that collide form a block, which stands where
 * the mean of their wishes is, as in isotonic regression; ties keep the order given.
 *
 * @returns the place of each label, in the order of the input
 */
export function placeLabels(
  wanted: readonly number[],
  gap: number,
  top: number,
  bottom: number,
): readonly number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0) || a - b);
  const blocks: { start: number; members: number[] }[] = [];
  for (const label of order) {
    let block = { start: settle([label]), members: [label] };
    for (;;) {
      const above = blocks[blocks.length - 1];
      if (above === undefined || above.start + above.members.length * gap <= block.start) break;
      blocks.pop();
      const members = [...above.members, ...block.members];
      block = { start: settle(members), members };
    }
    blocks.push(block);
  }
  const placed = Array.from<number>({ length: wanted.length }).fill(0);
  for (const block of blocks) {
    for (const [i, label] of block.members.entries()) placed[label] = block.start + i * gap;
  }
  return placed;

  function settle(members: readonly number[]): number {
    const mean = members.reduce((sum, label, i) => sum + (wanted[label] ?? 0) - i * gap, 0) / members.length;
    const last = bottom - (members.length - 1) * gap;
    return Math.max(top, Math.min(mean, last));
  }
}
