import type { CountModel } from './count-model.ts';
import { type Bounds, countBounds, type Seen, seenColumns } from './bounds.ts';

/** A small count that a reader can work out, and to what. */
export interface CountLeak {
  readonly cell: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Small counts (1 to `below` - 1) that are known more closely than their name tells: to one value, or to a range within
 * the small ones that is narrower than all of them.
 */
export function countLeaks(model: CountModel, seen: readonly Seen[], below: number): readonly CountLeak[] {
  return leaksIn(model, countBounds(model, seenColumns(seen)), below);
}

function leaksIn({ values }: CountModel, { lower, upper }: Bounds, below: number): readonly CountLeak[] {
  const leaks: CountLeak[] = [];
  for (const [cell, value] of values.entries()) {
    if (value < 1 || value >= below) continue;
    const [from, to] = [lower[cell] ?? 0, upper[cell] ?? 0];
    if (tellsSmall(from, to, below)) leaks.push({ cell, lower: from, upper: to });
  }
  return leaks;
}

/** Whether bounds tell of a small count more than its name does. Bounds that tell it go on doing so when narrowed. */
export function tellsSmall(from: number, to: number, below: number): boolean {
  return from >= 1 && to < below && to - from < below - 2;
}
