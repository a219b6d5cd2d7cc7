import type { CountModel } from './count-model.ts';

/** The least and the greatest that a reader can work out of each count. */
export interface Bounds {
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}

/** What a reader sees in the place of a cell. */
export type Seen = { readonly lower: number; readonly upper: number };

export const UNSEEN: Seen = { lower: 0, upper: Number.POSITIVE_INFINITY };

/**
 * Bounds of all counts from those that are seen and what adds up to what, by narrowing until nothing moves: a total lies
 * between the sums of the bounds of its parts, a part between what the total leaves over beside the others; infants
 * between half the feet and all of them. Exact whole numbers; bounds are never wider than the first pass allows.
 *
 * @param seen by cell; `UNSEEN` where nothing is
 * @param rules to begin with; all by default
 */
export function countBounds(
  { sums, pairs, rulesOf }: CountModel,
  seen: readonly Seen[],
  rules: Iterable<number> = Array.from({ length: sums.length + pairs.length }, (_, i) => i),
): Bounds {
  const lower = seen.map(cell => cell.lower);
  const upper = seen.map(cell => cell.upper);
  const waiting = [...rules];
  const isWaiting = new Set(waiting);
  const low = (cell: number): number => lower[cell] ?? 0;
  const high = (cell: number): number => upper[cell] ?? 0;
  const narrow = (cell: number, from: number, to: number): void => {
    if (from <= low(cell) && to >= high(cell)) return;
    lower[cell] = Math.max(from, low(cell));
    upper[cell] = Math.min(to, high(cell));
    for (const rule of rulesOf[cell] ?? []) {
      if (isWaiting.has(rule)) continue;
      isWaiting.add(rule);
      waiting.push(rule);
    }
  };
  for (let next = 0; next < waiting.length && next < MOST_STEPS; next++) {
    const rule = waiting[next] ?? 0;
    isWaiting.delete(rule);
    const sum = sums[rule];
    const pair = pairs[rule - sums.length];
    if (sum !== undefined) narrowSum(sum.total, sum.parts, low, high, narrow);
    else if (pair !== undefined) {
      narrow(pair.infants, Math.ceil(low(pair.feet) / 2), high(pair.feet));
      narrow(pair.feet, low(pair.infants), 2 * high(pair.infants));
    }
  }
  return { lower, upper };
}

/** Narrowing whole numbers ends by itself; this only stops a fault from running for ever. */
const MOST_STEPS = 20_000_000;

function narrowSum(
  total: number,
  parts: readonly number[],
  low: (cell: number) => number,
  high: (cell: number) => number,
  narrow: (cell: number, from: number, to: number) => void,
): void {
  let least = 0;
  let most = 0;
  let unbounded = 0;
  for (const part of parts) {
    least += low(part);
    if (Number.isFinite(high(part))) most += high(part);
    else unbounded += 1;
  }
  narrow(total, least, unbounded > 0 ? Number.POSITIVE_INFINITY : most);
  const [totalLow, totalHigh] = [low(total), high(total)];
  for (const part of parts) {
    const own = high(part);
    const othersUnbounded = unbounded - (Number.isFinite(own) ? 0 : 1);
    const othersMost = Number.isFinite(own) ? most - own : most;
    narrow(part, othersUnbounded > 0 ? 0 : totalLow - othersMost, totalHigh - (least - low(part)));
  }
}
