import { ascendingOrder } from '../../ascending-order.ts';
import { orderByCode } from '../order.ts';
import type { Arrangement } from './risk-sets.ts';

/** For each row, the weights of the rows it can be compared with, and of those it is concordant with. */
export interface PairCounts {
  readonly concordant: Float64Array;
  readonly comparable: Float64Array;
}

/**
 * Counts every comparable pair with both its rows, in one walk from the last time to the first.
 *
 * A Fenwick tree (1994, Softw Pract Exp 24:327) over the ranks of the scores holds, side by side, the rows
 * at risk and the events so far. An event finds the rows at risk with a lower score. A row finds
 * the events with a higher score that happen while it is at risk: those after its entry less those
 * from its exit on.
 */
export function countPairs(sets: Arrangement, score: Float64Array): PairCounts {
  const { n, event, weight, groupTime, groupEnd, groupDeaths, stratumEnd, entryOrder, entryTime } = sets;
  const { rank, most, places } = rankedGroups(sets, score);
  const size = 2 * (most.reduce((a, b) => Math.max(a, b), 0) + 1);
  // Whole-number counts halve the memory the walks touch.
  const tree = weight === undefined ? new Int32Array(size) : new Float64Array(size);
  const own = weight === undefined ? new Int32Array(size) : new Float64Array(size);
  const concordant = new Float64Array(n);
  const comparable = new Float64Array(n);
  const below = new Float64Array(2);
  let at = 0;
  let group = 0;
  for (let s = 0; s < stratumEnd.length; s++) {
    const top = most[s] as number;
    const stratumFirst = at;
    tree.fill(0, 0, 2 * top + 2);
    own.fill(0, 0, 2 * top + 2);
    let entered = at;
    let atRisk = 0;
    let happened = 0;
    for (; group < (stratumEnd[s] as number); group++) {
      const first = at;
      const end = groupEnd[group] as number;
      const deaths = groupDeaths[group] as number;
      if (entryOrder !== undefined && entryTime !== undefined && deaths > 0) {
        while (entered < first && (entryTime[entered] as number) >= (groupTime[group] as number)) {
          const place = entryOrder[entered] as number;
          const r = rank[place] as number;
          const w = weight === undefined ? 1 : (weight[place] as number);
          sumsTo(tree, r, below);
          concordant[place] =
            (concordant[place] as number) + happened - (below[1] as number) + (own[2 * r + 1] as number) / 2;
          comparable[place] = (comparable[place] as number) + happened;
          own[2 * r] = (own[2 * r] as number) - w;
          for (let k = r; k <= top; k += k & -k) tree[2 * k] = (tree[2 * k] as number) - w;
          atRisk -= w;
          entered++;
        }
      }
      for (let i = first; i < end; i++) {
        const place = places[i] as number;
        if (event[place] === 1) continue;
        const r = rank[place] as number;
        const w = weight === undefined ? 1 : (weight[place] as number);
        if (happened > 0) {
          sumsTo(tree, r, below);
          const higher = happened - (below[1] as number) + (own[2 * r + 1] as number) / 2;
          concordant[place] = (concordant[place] as number) - higher;
          comparable[place] = (comparable[place] as number) - happened;
        }
        own[2 * r] = (own[2 * r] as number) + w;
        for (let k = r; k <= top; k += k & -k) tree[2 * k] = (tree[2 * k] as number) + w;
        atRisk += w;
      }
      if (deaths > 0) {
        let tied = 0;
        for (let i = first; i < end; i++) {
          const place = places[i] as number;
          if (event[place] === 1) tied += weight === undefined ? 1 : (weight[place] as number);
        }
        // Tied events come by ascending rank: those with a higher score are the ones still to come.
        let passed = 0;
        let equal = 0;
        let last = 0;
        let runEnd = first;
        for (let i = first; i < end; i++) {
          const place = places[i] as number;
          if (event[place] === 0) continue;
          const r = rank[place] as number;
          if (r !== last) {
            passed += equal;
            equal = 0;
            last = r;
            for (runEnd = i; runEnd < end && rank[places[runEnd] as number] === r; runEnd++) {
              const other = places[runEnd] as number;
              if (event[other] === 1) equal += weight === undefined ? 1 : (weight[other] as number);
            }
          }
          sumsTo(tree, r, below);
          const lower = (below[0] as number) - (own[2 * r] as number) / 2;
          const higher =
            happened - (below[1] as number) + (own[2 * r + 1] as number) / 2 + tied - passed - equal / 2;
          concordant[place] = (concordant[place] as number) + lower - higher;
          comparable[place] = (comparable[place] as number) + atRisk - happened - tied;
        }
        for (let i = first; i < end; i++) {
          const place = places[i] as number;
          if (event[place] === 0) continue;
          const r = rank[place] as number;
          const w = weight === undefined ? 1 : (weight[place] as number);
          own[2 * r] = (own[2 * r] as number) + w;
          own[2 * r + 1] = (own[2 * r + 1] as number) + w;
          for (let k = r; k <= top; k += k & -k) {
            tree[2 * k] = (tree[2 * k] as number) + w;
            tree[2 * k + 1] = (tree[2 * k + 1] as number) + w;
          }
          atRisk += w;
        }
        happened += tied;
      }
      at = end;
    }
    meetRemaining(
      own,
      top,
      happened,
      { rank, concordant, comparable },
      entryOrder,
      entryOrder === undefined ? stratumFirst : entered,
      at,
    );
  }
  return { concordant, comparable };
}

/** The rows at risk from before the first event meet every event until their exit. */
function meetRemaining(
  own: Int32Array | Float64Array,
  top: number,
  happened: number,
  counts: PairCounts & { readonly rank: Int32Array },
  entryOrder: Int32Array | undefined,
  from: number,
  to: number,
): void {
  const { rank, concordant, comparable } = counts;
  const higher = new Float64Array(top + 1);
  let passed = 0;
  for (let r = 1; r <= top; r++) {
    const here = own[2 * r + 1] as number;
    higher[r] = happened - passed - here / 2;
    passed += here;
  }
  for (let i = from; i < to; i++) {
    const place = entryOrder === undefined ? i : (entryOrder[i] as number);
    concordant[place] = (concordant[place] as number) + (higher[rank[place] as number] as number);
    comparable[place] = (comparable[place] as number) + happened;
  }
}

function sumsTo(tree: Int32Array | Float64Array, rank: number, sums: Float64Array): void {
  let all = 0;
  let events = 0;
  for (let k = rank; k > 0; k -= k & -k) {
    all += tree[2 * k] as number;
    events += tree[2 * k + 1] as number;
  }
  sums[0] = all;
  sums[1] = events;
}

/**
 * Ranks 1, 2, ... of the scores within each stratum, equal scores sharing one; the highest rank of each
 * stratum; and the places group by group, by ascending rank within a group.
 */
function rankedGroups(
  sets: Arrangement,
  score: Float64Array,
): { rank: Int32Array; most: Int32Array; places: Int32Array } {
  const { n, groups, groupEnd, stratumEnd } = sets;
  const groupOf = new Int32Array(n);
  const stratumOf = new Int32Array(groups);
  for (let g = 0, i = 0; g < groups; g++) {
    for (; i < (groupEnd[g] as number); i++) groupOf[i] = g;
  }
  for (let s = 0, g = 0; s < stratumEnd.length; s++) {
    for (; g < (stratumEnd[s] as number); g++) stratumOf[g] = s;
  }
  const order = ascendingOrder(score);
  const rank = new Int32Array(n);
  const most = new Int32Array(stratumEnd.length);
  const last = new Float64Array(stratumEnd.length);
  for (let k = 0; k < n; k++) {
    const place = order[k] as number;
    const s = stratumOf[groupOf[place] as number] as number;
    const value = score[place] as number;
    if (most[s] === 0 || value !== last[s]) {
      most[s] = (most[s] as number) + 1;
      last[s] = value;
    }
    rank[place] = most[s] as number;
  }
  return { rank, most, places: orderByCode(order, groupOf, groups) };
}
