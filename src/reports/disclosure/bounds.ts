import type { CountModel } from './count-model.ts';

/** The least and the greatest that a reader can work out of each count. */
export interface Bounds {
  readonly lower: Readonly<ArrayLike<number>>;
  readonly upper: Readonly<ArrayLike<number>>;
}

/** What a reader sees in the place of a cell. */
export type Seen = { readonly lower: number; readonly upper: number };

export const UNSEEN: Seen = { lower: 0, upper: Number.POSITIVE_INFINITY };

/** What is seen of every cell, as two columns. */
export function seenColumns(seen: readonly Seen[]): { lower: Float64Array; upper: Float64Array } {
  const lower = new Float64Array(seen.length);
  const upper = new Float64Array(seen.length);
  for (let cell = 0; cell < seen.length; cell++) {
    const known = seen[cell] ?? UNSEEN;
    lower[cell] = known.lower;
    upper[cell] = known.upper;
  }
  return { lower, upper };
}

/**
 * Bounds of all counts from those that are seen and what adds up to what, by narrowing until nothing moves: a total lies
 * between the sums of the bounds of its parts, a part between what the total leaves over beside the others; infants
 * between half the feet and all of them. Exact whole numbers; bounds are never wider than the first pass allows.
 *
 * @param seen by cell; those of `UNSEEN` where nothing is
 * @param rules to begin with; all by default
 * @param enough ends the narrowing early, once the bounds of a cell that have just moved tell what is asked
 */
export function countBounds(
  { sums, pairs, rulesOf }: CountModel,
  seen: Bounds,
  rules: Iterable<number> = Array.from({ length: sums.length + pairs.length }, (_, i) => i),
  enough: (cell: number, least: number, most: number) => boolean = () => false,
): Bounds {
  const lower = Float64Array.from(seen.lower);
  const upper = Float64Array.from(seen.upper);
  const waiting = [...rules];
  const isWaiting = new Uint8Array(sums.length + pairs.length);
  for (const rule of waiting) isWaiting[rule] = 1;
  let steps = MOST_STEPS;
  const narrow = (cell: number, from: number, to: number): void => {
    const least = lower[cell] as number;
    const most = upper[cell] as number;
    if (from <= least && to >= most) return;
    if (from > least) lower[cell] = from;
    if (to < most) upper[cell] = to;
    if (enough(cell, Math.max(from, least), Math.min(to, most))) steps = 0;
    for (const rule of rulesOf[cell] ?? []) {
      if (isWaiting[rule] === 1) continue;
      isWaiting[rule] = 1;
      waiting.push(rule);
    }
  };
  for (let next = 0; next < Math.min(waiting.length, steps); next++) {
    const rule = waiting[next] ?? 0;
    isWaiting[rule] = 0;
    const sum = sums[rule];
    const pair = pairs[rule - sums.length];
    if (sum !== undefined) narrowSum(sum.total, sum.parts, lower, upper, narrow);
    else if (pair !== undefined) {
      narrow(pair.infants, Math.ceil((lower[pair.feet] as number) / 2), upper[pair.feet] as number);
      narrow(pair.feet, lower[pair.infants] as number, 2 * (upper[pair.infants] as number));
    }
  }
  return { lower, upper };
}

/** Narrowing whole numbers ends by itself; this only stops a fault from running for ever. */
const MOST_STEPS = 20_000_000;

function narrowSum(
  total: number,
  parts: readonly number[],
  lower: Float64Array,
  upper: Float64Array,
  narrow: (cell: number, from: number, to: number) => void,
): void {
  let least = 0;
  let most = 0;
  let unbounded = 0;
  for (const part of parts) {
    const own = upper[part] as number;
    least += lower[part] as number;
    if (own === Number.POSITIVE_INFINITY) unbounded += 1;
    else most += own;
  }
  narrow(total, least, unbounded > 0 ? Number.POSITIVE_INFINITY : most);
  const totalLow = lower[total] as number;
  const totalHigh = upper[total] as number;
  for (const part of parts) {
    const own = upper[part] as number;
    const bounded = own !== Number.POSITIVE_INFINITY;
    const othersUnbounded = unbounded - (bounded ? 0 : 1);
    const othersMost = bounded ? most - own : most;
    narrow(
      part,
      othersUnbounded > 0 ? 0 : totalLow - othersMost,
      totalHigh - (least - (lower[part] as number)),
    );
  }
}
