import { ascendingRuns } from '../../ascending-order.ts';
import type { PairCounts } from './pair-walk.ts';
import type { Arrangement } from './risk-sets.ts';

/** Up to this many distinct times the counts by time stay in the processor's nearer caches. */
export const FEW_TIMES = 1 << 15;

/**
 * Counts every comparable pair with both its rows, in one walk from the lowest score to the highest, where
 * there is no late entry and the distinct times are few beside the rows.
 *
 * Groups are numbered from the last time to the first, stratum by stratum. A Fenwick tree (1994, Softw Pract
 * Exp 24:327) over the groups holds, side by side, the rows and the events of lower score met so far. An event
 * finds among them the rows that outlive it: those of later times, and of its own time those censored. A row
 * finds the events of lower score it outlives; the other events it outlives have a higher score. Rows of equal
 * score ask before and after they are added, and take the mean.
 */
export function pairsByTime(sets: Arrangement, score: Float64Array, byPlace: boolean): PairCounts {
  const { n, event, weight, groups, groupEnd, stratumEnd } = sets;
  // Twice the group, and 1 more for an event: one far read a row instead of two.
  const keyOf = new Int32Array(n);
  const first = new Int32Array(groups);
  const last = new Int32Array(groups);
  for (let g = 0, i = 0; g < groups; g++) {
    for (; i < (groupEnd[g] as number); i++) keyOf[i] = 2 * g + (event[i] as number);
  }
  for (let s = 0, g = 0; s < stratumEnd.length; s++) {
    const start = g;
    for (; g < (stratumEnd[s] as number); g++) {
      first[g] = start;
      last[g] = stratumEnd[s] as number;
    }
  }
  const tree = weight === undefined ? new Int32Array(2 * groups + 2) : new Float64Array(2 * groups + 2);
  const own = new Float64Array(groups);
  const metIn = new Float64Array(stratumEnd.length === 1 ? 1 : groups);
  const totals = totalsOfGroups(sets, first, last);
  const concordant = new Float64Array(n);
  const comparable = new Float64Array(n);
  // All that is needed of a row stands in its key, unless rows have weights or clusters of their own.
  const places = weight === undefined && !byPlace ? undefined : Int32Array.from(keyOf, (_, place) => place);
  const sorted = ascendingRuns(score, places ?? keyOf);
  const keys = places === undefined ? sorted.carried : sorted.carried.map(place => keyOf[place] as number);
  const weights =
    weight === undefined ? undefined : Float64Array.from(sorted.carried, place => weight[place] as number);
  const { fresh } = sorted;
  for (let from = 0, to = 0; from < n; from = to) {
    to = from + 1;
    while (to < n && fresh[to] === 0) to++;
    const share = to === from + 1 ? 1 : 0.5;
    for (let k = from; k < to; k++) ask(k, share);
    for (let k = from; k < to; k++) enter(k);
    if (share < 1) for (let k = from; k < to; k++) ask(k, share);
  }
  for (let k = 0; k < n; k++) {
    const key = keys[k] as number;
    const g = key >> 1;
    comparable[k] =
      (key & 1) === 1
        ? (totals.outlive[g] as number) + (totals.earlier[g] as number)
        : (totals.earlier[g] as number) + (totals.events[g] as number);
  }
  return { concordant, comparable, places: places && sorted.carried };

  function ask(at: number, share: number): void {
    const key = keys[at] as number;
    const g = key >> 1;
    const start = first[g] as number;
    let rows = 0;
    let events = 0;
    for (let k = g - start + 1; k > 0; k -= k & -k) {
      rows += tree[2 * (start + k)] as number;
      events += tree[2 * (start + k) + 1] as number;
    }
    const met = metIn[stratumEnd.length === 1 ? 0 : start] as number;
    const tied = own[g] as number;
    const count =
      (key & 1) === 1
        ? rows - tied + (totals.earlier[g] as number) - (met - events)
        : (totals.earlier[g] as number) + (totals.events[g] as number) - (met - events + tied);
    concordant[at] = (concordant[at] as number) + share * count;
  }

  function enter(at: number): void {
    const key = keys[at] as number;
    const g = key >> 1;
    const start = first[g] as number;
    const w = weights === undefined ? 1 : (weights[at] as number);
    const died = (key & 1) === 1 ? w : 0;
    const size = (last[g] as number) - start;
    for (let k = g - start + 1; k <= size; k += k & -k) {
      const node = 2 * (start + k);
      tree[node] = (tree[node] as number) + w;
      tree[node + 1] = (tree[node + 1] as number) + died;
    }
    own[g] = (own[g] as number) + died;
    const s = stratumEnd.length === 1 ? 0 : start;
    metIn[s] = (metIn[s] as number) + died;
  }
}

/** For each group: its events, the events of its stratum at earlier times, and the rows that outlive its events. */
function totalsOfGroups(
  { event, weight, groups, groupEnd }: Arrangement,
  first: Int32Array,
  last: Int32Array,
): { events: Float64Array; earlier: Float64Array; outlive: Float64Array } {
  const events = new Float64Array(groups);
  const earlier = new Float64Array(groups);
  const outlive = new Float64Array(groups);
  let rows = 0;
  for (let g = 0, i = 0; g < groups; g++) {
    if (first[g] === g) rows = 0;
    let died = 0;
    for (; i < (groupEnd[g] as number); i++) {
      const w = weight === undefined ? 1 : (weight[i] as number);
      rows += w;
      if (event[i] === 1) died += w;
    }
    events[g] = died;
    outlive[g] = rows - died;
  }
  let later = 0;
  for (let g = groups - 1; g >= 0; g--) {
    if (last[g] === g + 1) later = 0;
    earlier[g] = later;
    later += events[g] as number;
  }
  return { events, earlier, outlive };
}
