import { ascendingOrder } from '../../ascending-order.ts';
import { orderByKey } from '../../distinct-times.ts';
import { type PairCounts, type PairWalk, walkPairs } from './pair-walk.ts';
import { FEW_TIMES, pairsByTime } from './pairs-by-time.ts';
import type { Arrangement } from './risk-sets.ts';

/** Ranks in one block; the counts of a block then stay in the processor's first cache. */
const BLOCK_BITS = 10;

/**
 * Counts every comparable pair with both its rows.
 *
 * A pair of very different scores is decided by blocks of ranks, and one of like scores within its block:
 * one walk over the blocks, in which rows of one block count nothing, and one within each block. Both
 * keep their counts in a few kilobytes, where a single walk over a million ranks would miss the cache at
 * every step. Few ranks need one walk only. Few times without late entry have a faster way: `pairsByTime`.
 *
 * @param byPlace whether to tell which row each count is of
 */
export function countPairs(sets: Arrangement, score: Float64Array, byPlace: boolean): PairCounts {
  const { n, event, weight, groupEnd, stratumEnd, entryOrder, entryTime } = sets;
  if (entryOrder === undefined && sets.groups <= FEW_TIMES) return pairsByTime(sets, score, byPlace);
  const counts = { concordant: new Float64Array(n), comparable: new Float64Array(n) };
  const { rank, most, places, groupOf, stratumOf } = rankedGroups(sets, score);
  const entry = entryTime === undefined ? undefined : new Float64Array(n);
  if (entry !== undefined && entryOrder !== undefined && entryTime !== undefined) {
    for (let i = 0; i < n; i++) entry[entryOrder[i] as number] = entryTime[i] as number;
  }
  const strata: PairWalk = {
    places,
    segmentEnd: Int32Array.from(stratumEnd, last => (last === 0 ? 0 : (groupEnd[last - 1] as number))),
    rank,
    most,
    groupOf,
    groupTime: sets.groupTime,
    event,
    weight,
    entryOrder,
    entry,
  };
  if (!most.some(top => top > 4 << BLOCK_BITS)) {
    walkPairs(strata, { ties: 0.5, ...counts });
    return counts;
  }
  const blocks = most.map(top => blockOf(top) + 1);
  walkPairs({ ...strata, rank: rank.map(r => blockOf(r) + 1), most: blocks }, { ties: 0, ...counts });
  walkPairs(blockWalk(strata, stratumOf, blocks), { ties: 0.5, concordant: counts.concordant });
  return counts;
}

/** The walk with every block of ranks a segment of its own. */
function blockWalk(strata: PairWalk, stratumOf: Int32Array, blocks: Int32Array): PairWalk {
  const { rank, groupOf, places, entryOrder } = strata;
  const n = rank.length;
  const first = new Int32Array(blocks.length);
  let segments = 0;
  for (let s = 0; s < blocks.length; s++) {
    first[s] = segments;
    segments += blocks[s] as number;
  }
  const segmentOf = new Int32Array(n);
  const inBlock = new Int32Array(n);
  const most = new Int32Array(segments);
  const segmentEnd = new Int32Array(segments);
  for (let i = 0; i < n; i++) {
    const block = blockOf(rank[i] as number);
    const segment = (first[stratumOf[groupOf[i] as number] as number] as number) + block;
    const r = (rank[i] as number) - (block << BLOCK_BITS);
    segmentOf[i] = segment;
    inBlock[i] = r;
    segmentEnd[segment] = (segmentEnd[segment] as number) + 1;
    if (r > (most[segment] as number)) most[segment] = r;
  }
  for (let k = 1; k < segments; k++) {
    segmentEnd[k] = (segmentEnd[k] as number) + (segmentEnd[k - 1] as number);
  }
  return {
    ...strata,
    places: orderByKey(segmentOf, segments, places),
    segmentEnd,
    rank: inBlock,
    most,
    entryOrder: entryOrder === undefined ? undefined : orderByKey(segmentOf, segments, entryOrder),
  };
}

/** The block of a rank; ranks begin at 1, blocks at 0. */
function blockOf(rank: number): number {
  return (rank - 1) >> BLOCK_BITS;
}

interface RankedGroups {
  /** Ranks 1, 2, ... of the scores within each stratum, equal scores sharing one. */
  readonly rank: Int32Array;
  /** The highest rank of each stratum. */
  readonly most: Int32Array;
  /** The places group by group, by ascending rank within a group. */
  readonly places: Int32Array;
  readonly groupOf: Int32Array;
  readonly stratumOf: Int32Array;
}

function rankedGroups(sets: Arrangement, score: Float64Array): RankedGroups {
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
  const single = stratumEnd.length === 1;
  for (let k = 0; k < n; k++) {
    const place = order[k] as number;
    const s = single ? 0 : (stratumOf[groupOf[place] as number] as number);
    const value = score[place] as number;
    if (most[s] === 0 || value !== last[s]) {
      most[s] = (most[s] as number) + 1;
      last[s] = value;
    }
    rank[place] = most[s] as number;
  }
  return { rank, most, places: orderByKey(groupOf, groups, order), groupOf, stratumOf };
}
