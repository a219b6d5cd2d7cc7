import { distinctTimes, firstLater, orderByKey } from '../distinct-times.ts';
import type { Spells } from './spells.ts';

/** Tables by state, then time. */
export interface OccupancyPath {
  readonly time: readonly number[];
  readonly atRisk: readonly number[][];
  readonly probability: readonly number[][];
  readonly standardError: readonly number[][];
  readonly initial: Float64Array;
  readonly transitions: readonly { readonly from: number; readonly to: number; readonly count: number }[];
  readonly meanTime: Float64Array;
  readonly meanTimeError: Float64Array;
}

/**
 * Occupancy probabilities p with their influences U, one row of states a cluster, carried forward in time.
 *
 * At a time with h_ab = transitions a to b / at risk in a, the flow from a to b is p_a h_ab for the
 * probabilities, and for a cluster with weight W_a at risk in a, of which m_ab go over, h_ab (U_a - W_a p_a /
 * at risk in a) + m_ab p_a / at risk in a.
 */
export function occupancyPath(spells: Spells, begin: number, horizon: number): OccupancyPath {
  const { times, place } = distinctTimes(spells.stop);
  const count = spells.states.length;
  const { clusters } = spells;
  const n = place.length;
  const entryPlace =
    spells.start.length > 0 ? Int32Array.from(spells.start, at => firstLater(times, at)) : place;
  const leaving = orderByKey(place, times.length);
  const entering = orderByKey(entryPlace, times.length);
  const here = new Float64Array(clusters * count);
  const inState = new Float64Array(count);
  const { initial, influence } = startOf(spells, times, place);
  const p = Float64Array.from(initial);
  const meanInfluence = new Float64Array(clusters * count);
  const meanTime = new Float64Array(count);
  const table = () => Array.from({ length: count }, () => Array.from({ length: times.length }, () => 0));
  const path = { atRisk: table(), probability: table(), standardError: table() };
  const moved = new Float64Array(count * count);
  const all = new Float64Array(count * count);
  let errors = rootSums(influence, count);
  let entered = 0;
  let left = 0;
  let since = begin;
  const addTimeUpTo = (time: number): void => {
    const span = Math.min(time, horizon) - since;
    if (span <= 0) return;
    since += span;
    for (let s = 0; s < count; s++) meanTime[s] = (meanTime[s] as number) + span * (p[s] as number);
    for (let c = 0; c < influence.length; c++) {
      meanInfluence[c] = (meanInfluence[c] as number) + span * (influence[c] as number);
    }
  };
  for (let k = 0; k < times.length; k++) {
    for (; entered < n && entryPlace[entering[entered] as number] === k; entered++) {
      addRow(spells, entering[entered] as number, 1, here, inState);
    }
    for (let s = 0; s < count; s++) (path.atRisk[s] as number[])[k] = inState[s] as number;
    let end = left;
    let any = false;
    moved.fill(0);
    for (; end < n && place[leaving[end] as number] === k; end++) {
      const row = leaving[end] as number;
      const to = spells.to[row] as number;
      if (to < 0) continue;
      const pair = (spells.from[row] as number) * count + to;
      moved[pair] = (moved[pair] as number) + (spells.weight[row] as number);
      any = true;
    }
    if (any) {
      addTimeUpTo(times[k] as number);
      flowInfluence(spells, influence, here, inState, p, moved);
      for (let i = left; i < end; i++) ownTransition(spells, leaving[i] as number, influence, inState, p);
      flowProbability(p, inState, moved);
      for (let pair = 0; pair < all.length; pair++)
        all[pair] = (all[pair] as number) + (moved[pair] as number);
      errors = rootSums(influence, count);
    }
    for (; left < end; left++) addRow(spells, leaving[left] as number, -1, here, inState);
    for (let s = 0; s < count; s++) {
      (path.probability[s] as number[])[k] = p[s] as number;
      (path.standardError[s] as number[])[k] = errors[s] as number;
    }
  }
  addTimeUpTo(horizon);
  return {
    time: Array.from(times),
    ...path,
    initial,
    transitions: Array.from(all, (size, pair) => ({
      from: Math.floor(pair / count),
      to: pair % count,
      count: size,
    })).filter(transition => transition.count > 0),
    meanTime,
    meanTimeError: rootSums(meanInfluence, count),
  };
}

/**
 * Shares of the states among those under observation just before the first transition, with their influences.
 */
function startOf(spells: Spells, times: Float64Array, place: Int32Array) {
  const count = spells.states.length;
  const firstMove = place.reduce(
    (least, k, i) => ((spells.to[i] as number) >= 0 && k < least ? k : least),
    times.length,
  );
  const first = times[firstMove] ?? times[0] ?? 0;
  const initial = new Float64Array(count);
  const influence = new Float64Array(spells.clusters * count);
  const observed: number[] = [];
  let total = 0;
  for (let i = 0; i < place.length; i++) {
    if ((spells.start[i] as number) >= first || (spells.stop[i] as number) < first) continue;
    observed.push(i);
    const state = spells.from[i] as number;
    initial[state] = (initial[state] as number) + (spells.weight[i] as number);
    total += spells.weight[i] as number;
  }
  for (let s = 0; s < count; s++) initial[s] = (initial[s] as number) / total;
  for (const i of observed) {
    const row = (spells.cluster[i] as number) * count;
    const share = (spells.weight[i] as number) / total;
    for (let s = 0; s < count; s++) {
      const indicator = spells.from[i] === s ? 1 : 0;
      influence[row + s] = (influence[row + s] as number) + share * (indicator - (initial[s] as number));
    }
  }
  return { initial, influence };
}

function addRow(spells: Spells, row: number, sign: 1 | -1, here: Float64Array, inState: Float64Array): void {
  const state = spells.from[row] as number;
  const cell = (spells.cluster[row] as number) * inState.length + state;
  const weight = sign * (spells.weight[row] as number);
  here[cell] = (here[cell] as number) + weight;
  inState[state] = (inState[state] as number) + weight;
}

/** What every cluster's influence gains by the hazards of this time. */
function flowInfluence(
  spells: Spells,
  influence: Float64Array,
  here: Float64Array,
  inState: Float64Array,
  p: Float64Array,
  moved: Float64Array,
): void {
  const count = p.length;
  const pairs = Array.from(moved.keys()).filter(pair => (moved[pair] as number) > 0);
  const from = Int32Array.from(pairs, pair => Math.floor(pair / count));
  const to = Int32Array.from(pairs, pair => pair % count);
  const hazard = Float64Array.from(
    pairs,
    (pair, at) => (moved[pair] as number) / (inState[from[at] as number] as number),
  );
  const perWeight = Float64Array.from(p, (share, s) =>
    (inState[s] as number) > 0 ? share / (inState[s] as number) : 0,
  );
  const flow = new Float64Array(pairs.length);
  for (let c = 0; c < spells.clusters; c++) {
    const row = c * count;
    for (let at = 0; at < flow.length; at++) {
      const a = from[at] as number;
      const own = (influence[row + a] as number) - (here[row + a] as number) * (perWeight[a] as number);
      flow[at] = (hazard[at] as number) * own;
    }
    for (let at = 0; at < flow.length; at++) {
      const a = row + (from[at] as number);
      const b = row + (to[at] as number);
      influence[a] = (influence[a] as number) - (flow[at] as number);
      influence[b] = (influence[b] as number) + (flow[at] as number);
    }
  }
}

/** What a cluster's influence gains by its own transition. */
function ownTransition(
  spells: Spells,
  row: number,
  influence: Float64Array,
  inState: Float64Array,
  p: Float64Array,
): void {
  const to = spells.to[row] as number;
  if (to < 0) return;
  const from = spells.from[row] as number;
  const first = (spells.cluster[row] as number) * p.length;
  const step = ((spells.weight[row] as number) * (p[from] as number)) / (inState[from] as number);
  influence[first + from] = (influence[first + from] as number) - step;
  influence[first + to] = (influence[first + to] as number) + step;
}

function flowProbability(p: Float64Array, inState: Float64Array, moved: Float64Array): void {
  const count = p.length;
  const before = Float64Array.from(p);
  for (let a = 0; a < count; a++) {
    let gone = 0;
    for (let b = 0; b < count; b++) {
      const m = moved[a * count + b] as number;
      if (m === 0) continue;
      gone += m;
      p[b] = (p[b] as number) + ((before[a] as number) * m) / (inState[a] as number);
    }
    // What stays is counted, not what goes subtracted, so that a state all leave ends at exactly 0 from this
    // source.
    if (gone > 0)
      p[a] =
        (p[a] as number) -
        (before[a] as number) +
        ((before[a] as number) * ((inState[a] as number) - gone)) / (inState[a] as number);
  }
}

function rootSums(influence: Float64Array, count: number): Float64Array {
  const sums = new Float64Array(count);
  for (let row = 0; row < influence.length; row += count) {
    for (let s = 0; s < count; s++) sums[s] = (sums[s] as number) + (influence[row + s] as number) ** 2;
  }
  return sums.map(Math.sqrt);
}
