import { ascendingRuns } from '../../ascending-order.ts';
import type { Arrangement } from './risk-sets.ts';

/** For each row, the weights of the rows it can be compared with, and of those it is concordant with. */
export interface PairCounts {
  readonly concordant: Float64Array;
  readonly comparable: Float64Array;
  /** The place of the row each count is of; left out if nobody asked and rows are alike. */
  readonly places?: Int32Array | undefined;
}

/**
 * Counts every comparable pair with both its rows, in one walk from the lowest score to the highest.
 *
 * Groups are numbered from the last time to the first, stratum by stratum. A Fenwick tree (1994, Softw Pract
 * Exp 24:327) over the groups holds, side by side, the rows and the events of lower score met so far; a row that
 * enters late is taken out again where the times before its entry begin. An event finds among them the rows at risk:
 * those of later times, and of its own time those censored. A row finds the events of lower score that happen while it
 * is at risk; the other events of that span have a higher score. Rows of equal score ask before and after they are
 * added, and take the mean.
 *
 * @param byPlace whether to tell which row each count is of
 */
export function countPairs(sets: Arrangement, score: Float64Array, byPlace: boolean): PairCounts {
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
  const entryGroup = entryGroups(sets);
  const tree = weight === undefined ? new Int32Array(2 * groups + 2) : new Float64Array(2 * groups + 2);
  const own = new Float64Array(groups);
  const metIn = new Float64Array(stratumEnd.length === 1 ? 1 : groups);
  const totals = totalsOfGroups(sets, entryGroup, first, last);
  const concordant = new Float64Array(n);
  const comparable = new Float64Array(n);
  // All that is needed of a row stands in its key, unless rows have weights, clusters or entries of their own.
  const byKey = weight === undefined && entryGroup === undefined && !byPlace;
  const places = byKey ? undefined : Int32Array.from(keyOf, (_, place) => place);
  const sorted = ascendingRuns(score, places ?? keyOf);
  const keys = places === undefined ? sorted.carried : sorted.carried.map(place => keyOf[place] as number);
  const weights =
    weight === undefined ? undefined : Float64Array.from(sorted.carried, place => weight[place] as number);
  const entries = entryGroup && sorted.carried.map(place => entryGroup[place] as number);
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
    const early = entries === undefined ? groups : (entries[k] as number);
    comparable[k] =
      (totals.earlier[g] as number) +
      ((key & 1) === 1 ? (totals.atRisk[g] as number) : (totals.events[g] as number)) -
      (early === groups ? 0 : (totals.earlier[early] as number) + (totals.events[early] as number));
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
    let count =
      (key & 1) === 1
        ? rows - tied + (totals.earlier[g] as number) - (met - events)
        : (totals.earlier[g] as number) + (totals.events[g] as number) - (met - events + tied);
    const early = entries === undefined ? groups : (entries[at] as number);
    if (early < groups) {
      // Less the events of higher score up to its entry.
      let later = 0;
      for (let k = early - start; k > 0; k -= k & -k) later += tree[2 * (start + k) + 1] as number;
      count -= (totals.earlier[early] as number) + (totals.events[early] as number) - (met - later);
    }
    concordant[at] = (concordant[at] as number) + share * count;
  }

  function enter(at: number): void {
    const key = keys[at] as number;
    const g = key >> 1;
    const w = weights === undefined ? 1 : (weights[at] as number);
    const died = (key & 1) === 1 ? w : 0;
    add(g, w, died);
    if (entries !== undefined && (entries[at] as number) < groups) add(entries[at] as number, -w, 0);
    own[g] = (own[g] as number) + died;
    const s = stratumEnd.length === 1 ? 0 : (first[g] as number);
    metIn[s] = (metIn[s] as number) + died;
  }

  function add(g: number, rows: number, events: number): void {
    const start = first[g] as number;
    const size = (last[g] as number) - start;
    for (let k = g - start + 1; k <= size; k += k & -k) {
      const node = 2 * (start + k);
      tree[node] = (tree[node] as number) + rows;
      tree[node + 1] = (tree[node + 1] as number) + events;
    }
  }
}

/** For each place the latest group of its stratum that is over by its entry, or the number of groups if none is. */
function entryGroups(sets: Arrangement): Int32Array | undefined {
  const { groups, groupTime, stratumEnd, groupEnd, entryOrder, entryTime } = sets;
  if (entryOrder === undefined || entryTime === undefined) return undefined;
  const found = new Int32Array(entryOrder.length).fill(groups);
  let g = 0;
  let at = 0;
  for (const last of stratumEnd) {
    const rows = last === 0 ? 0 : (groupEnd[last - 1] as number);
    for (; at < rows; at++) {
      while (g < last && (groupTime[g] as number) > (entryTime[at] as number)) g++;
      if (g < last) found[entryOrder[at] as number] = g;
    }
    g = last;
  }
  return found;
}

/** For each group: its events, the events of its stratum at earlier times, and the rows at risk at its time without an event then. */
function totalsOfGroups(
  { event, weight, groups, groupEnd }: Arrangement,
  entryGroup: Int32Array | undefined,
  first: Int32Array,
  last: Int32Array,
): { events: Float64Array; earlier: Float64Array; atRisk: Float64Array } {
  const events = new Float64Array(groups);
  const earlier = new Float64Array(groups);
  const atRisk = new Float64Array(groups);
  for (let g = 0, i = 0; g < groups; g++) {
    for (; i < (groupEnd[g] as number); i++) {
      const w = weight === undefined ? 1 : (weight[i] as number);
      atRisk[g] = (atRisk[g] as number) + w;
      if (event[i] === 1) events[g] = (events[g] as number) + w;
      const early = entryGroup === undefined ? groups : (entryGroup[i] as number);
      if (early < groups) atRisk[early] = (atRisk[early] as number) - w;
    }
  }
  for (let g = 1; g < groups; g++) {
    if (first[g] !== g) atRisk[g] = (atRisk[g] as number) + (atRisk[g - 1] as number);
  }
  let later = 0;
  for (let g = groups - 1; g >= 0; g--) {
    if (last[g] === g + 1) later = 0;
    earlier[g] = later;
    later += events[g] as number;
    atRisk[g] = (atRisk[g] as number) - (events[g] as number);
  }
  return { events, earlier, atRisk };
}
