/** For each row, the weights of the rows it can be compared with, and of those it is concordant with. */
export interface PairCounts {
  readonly concordant: Float64Array;
  readonly comparable: Float64Array;
  /** The place of the row each count is of; left out if they stand by place, or if nobody asked. */
  readonly places?: Int32Array | undefined;
}

/**
 * Rows to be compared within segments. A place is a row's number in the columns here; groups are rows of one
 * exit time, numbered from the last time to the first.
 */
export interface PairWalk {
  /** Places segment by segment, in it by group, in a group by ascending rank. */
  readonly places: Int32Array;
  readonly segmentEnd: Int32Array;
  /** Ranks of the scores within the segment, from 1. */
  readonly rank: Int32Array;
  /** The highest rank of each segment. */
  readonly most: Int32Array;
  readonly groupOf: Int32Array;
  readonly groupTime: Float64Array;
  readonly event: Uint8Array;
  readonly weight: Float64Array | undefined;
  /** Under late entry: places by segment and from the last entry to the first, and each place's entry time. */
  readonly entryOrder: Int32Array | undefined;
  readonly entry: Float64Array | undefined;
}

export interface PairTotals {
  /** What a pair of equal ranks counts. */
  readonly ties: number;
  readonly concordant: Float64Array;
  /** Left out: not counted. */
  readonly comparable?: Float64Array;
}

/**
 * Adds the pairs of each segment to the totals of both rows, in one walk from the last time to the first.
 *
 * A Fenwick tree (1994, Softw Pract Exp 24:327) over the ranks holds, side by side, the rows at risk and the
 * events so far. An event finds the rows at risk with a lower rank. A row finds the events with a
 * higher rank that happen while it is at risk: those after its entry less those from its exit on.
 */
export function walkPairs(walk: PairWalk, { ties, concordant, comparable }: PairTotals): void {
  const { places, segmentEnd, rank, most, groupOf, groupTime, event, weight, entryOrder, entry } = walk;
  let size = 2;
  for (let s = 0; s < most.length; s++) size = Math.max(size, 2 * ((most[s] as number) + 1));
  const tree = weight === undefined ? new Int32Array(size) : new Float64Array(size);
  const own = weight === undefined ? new Int32Array(size) : new Float64Array(size);
  const below = new Float64Array(2);
  let at = 0;
  for (let s = 0; s < segmentEnd.length; s++) {
    const top = most[s] as number;
    const segmentFirst = at;
    const segmentLast = segmentEnd[s] as number;
    tree.fill(0, 0, 2 * top + 2);
    own.fill(0, 0, 2 * top + 2);
    // Where groups are large beside the ranks, plain counts swept once a group cost less than the tree.
    const span =
      at < segmentLast
        ? (groupOf[places[segmentLast - 1] as number] as number) -
          (groupOf[places[at] as number] as number) +
          1
        : 0;
    const swept = entryOrder === undefined && 8 * (segmentLast - at) > top * span;
    let entered = at;
    let atRisk = 0;
    let happened = 0;
    while (at < segmentLast) {
      const first = at;
      const group = groupOf[places[at] as number] as number;
      let tied = 0;
      for (; at < segmentLast; at++) {
        const place = places[at] as number;
        if (groupOf[place] !== group) break;
        if (event[place] === 1) tied += weight === undefined ? 1 : (weight[place] as number);
      }
      if (entryOrder !== undefined && entry !== undefined && tied > 0) {
        const time = groupTime[group] as number;
        for (; entered < first; entered++) {
          const place = entryOrder[entered] as number;
          if ((entry[place] as number) < time) break;
          const r = rank[place] as number;
          const w = weight === undefined ? 1 : (weight[place] as number);
          sumsBelow(tree, r, below);
          const higher = happened - (below[1] as number) - (1 - ties) * (own[2 * r + 1] as number);
          concordant[place] = (concordant[place] as number) + higher;
          if (comparable !== undefined) comparable[place] = (comparable[place] as number) + happened;
          add(tree, own, top, r, -w, 0);
          atRisk -= w;
        }
      }
      let cursor = 1;
      below.fill(0);
      for (let i = first; i < at; i++) {
        const place = places[i] as number;
        if (event[place] === 1) continue;
        const r = rank[place] as number;
        const w = weight === undefined ? 1 : (weight[place] as number);
        if (happened > 0) {
          if (swept) cursor = sweepTo(own, cursor, r, below);
          else sumsBelow(tree, r, below);
          const higher = happened - (below[1] as number) - (1 - ties) * (own[2 * r + 1] as number);
          concordant[place] = (concordant[place] as number) - higher;
          if (comparable !== undefined) comparable[place] = (comparable[place] as number) - happened;
        }
        add(tree, own, swept ? 0 : top, r, w, 0);
        atRisk += w;
      }
      if (tied === 0) continue;
      cursor = 1;
      below.fill(0);
      // Tied events come by ascending rank: those with a higher rank are the ones still to come.
      let passed = 0;
      let equal = 0;
      let last = 0;
      for (let i = first; i < at; i++) {
        const place = places[i] as number;
        if (event[place] === 0) continue;
        const r = rank[place] as number;
        if (r !== last) {
          passed += equal;
          equal = 0;
          last = r;
          for (let k = i; k < at && rank[places[k] as number] === r; k++) {
            const other = places[k] as number;
            if (event[other] === 1) equal += weight === undefined ? 1 : (weight[other] as number);
          }
          if (swept) cursor = sweepTo(own, cursor, r, below);
          else sumsBelow(tree, r, below);
        }
        const lower = (below[0] as number) + ties * (own[2 * r] as number);
        const higher =
          happened -
          (below[1] as number) -
          (1 - ties) * (own[2 * r + 1] as number) +
          (tied - passed - (1 - ties) * equal);
        concordant[place] = (concordant[place] as number) + lower - higher;
        if (comparable !== undefined) {
          comparable[place] = (comparable[place] as number) + atRisk - happened - tied;
        }
      }
      for (let i = first; i < at; i++) {
        const place = places[i] as number;
        if (event[place] === 0) continue;
        const w = weight === undefined ? 1 : (weight[place] as number);
        add(tree, own, swept ? 0 : top, rank[place] as number, w, w);
        atRisk += w;
      }
      happened += tied;
    }
    if (happened > 0) {
      const rows = entryOrder ?? places;
      const from = entryOrder === undefined ? segmentFirst : entered;
      meetAll(own, top, happened, ties, rows.subarray(from, at), rank, concordant);
      if (comparable !== undefined) {
        for (let i = from; i < at; i++) {
          const place = rows[i] as number;
          comparable[place] = (comparable[place] as number) + happened;
        }
      }
    }
  }
}

/** The rows at risk from before the first event on meet every event until their exit. */
function meetAll(
  own: Int32Array | Float64Array,
  top: number,
  happened: number,
  ties: number,
  places: Int32Array,
  rank: Int32Array,
  concordant: Float64Array,
): void {
  const higher = new Float64Array(top + 1);
  let passed = 0;
  for (let r = 1; r <= top; r++) {
    const here = own[2 * r + 1] as number;
    higher[r] = happened - passed - (1 - ties) * here;
    passed += here;
  }
  for (let i = 0; i < places.length; i++) {
    const place = places[i] as number;
    concordant[place] = (concordant[place] as number) + (higher[rank[place] as number] as number);
  }
}

/** Adds to the rows at risk and the events so far at a rank; in the counts alone if `top` is 0. */
function add(
  tree: Int32Array | Float64Array,
  own: Int32Array | Float64Array,
  top: number,
  rank: number,
  atRisk: number,
  events: number,
): void {
  own[2 * rank] = (own[2 * rank] as number) + atRisk;
  own[2 * rank + 1] = (own[2 * rank + 1] as number) + events;
  for (let k = rank; k <= top; k += k & -k) {
    tree[2 * k] = (tree[2 * k] as number) + atRisk;
    tree[2 * k + 1] = (tree[2 * k + 1] as number) + events;
  }
}

/** Rows at risk, and events, of a rank below the given one. */
function sumsBelow(tree: Int32Array | Float64Array, rank: number, sums: Float64Array): void {
  let atRisk = 0;
  let events = 0;
  for (let k = rank - 1; k > 0; k -= k & -k) {
    atRisk += tree[2 * k] as number;
    events += tree[2 * k + 1] as number;
  }
  sums[0] = atRisk;
  sums[1] = events;
}

/** Carries the sums below one rank on to those below a higher one; returns the latter. */
function sweepTo(own: Int32Array | Float64Array, from: number, to: number, sums: Float64Array): number {
  let atRisk = 0;
  let events = 0;
  for (let r = from; r < to; r++) {
    atRisk += own[2 * r] as number;
    events += own[2 * r + 1] as number;
  }
  sums[0] = (sums[0] as number) + atRisk;
  sums[1] = (sums[1] as number) + events;
  return Math.max(from, to);
}
