import { orderByKey } from '../../distinct-times.ts';
import { descendingOrder } from '../order.ts';
import type { CoxColumns } from './types.ts';

/**
 * Rows arranged so that every risk set is met in one pass: by stratum, within it from the last exit
 * time to the first; of one time the events first, else in the order given. Covariates are centred and scaled to standard deviation 1,
 * row after row, so that the pass reads memory in order and the information is well conditioned.
 *
 * A group is all rows of one stratum with one exit time.
 */
export interface RiskSets {
  readonly n: number;
  readonly p: number;
  readonly names: readonly string[];
  /** The original row at each place. */
  readonly order: Int32Array;
  readonly event: Uint8Array;
  /** Centred and scaled covariates, n x p, row by row. */
  readonly z: Float64Array;
  readonly centre: Float64Array;
  readonly scale: Float64Array;
  /** Largest minus smallest value of each scaled covariate. */
  readonly range: Float64Array;
  readonly weight: Float64Array | undefined;
  readonly offset: Float64Array | undefined;
  /** Over all events: weighted sums of z and of the offset, and the sum of weights. */
  readonly eventTotal: Float64Array;
  readonly eventOffset: number;
  readonly eventWeights: number;
  /** With weights: the sum of the event weights of each group. */
  readonly eventWeight: Float64Array | undefined;
  readonly groups: number;
  readonly groupTime: Float64Array;
  /** Place after the last row of each group. */
  readonly groupEnd: Int32Array;
  readonly groupDeaths: Int32Array;
  /** Group after the last of each stratum. */
  readonly stratumEnd: Int32Array;
  /** Under late entry: places by stratum and from the last entry time to the first, and those times. */
  readonly entryOrder: Int32Array | undefined;
  readonly entryTime: Float64Array | undefined;
  readonly events: number;
}

/** Only what decides the arrangement: shared by statistics that need risk sets but no covariates. */
export type Arrangement = Pick<
  RiskSets,
  | 'n'
  | 'order'
  | 'event'
  | 'weight'
  | 'groups'
  | 'groupTime'
  | 'groupEnd'
  | 'groupDeaths'
  | 'stratumEnd'
  | 'entryOrder'
  | 'entryTime'
  | 'events'
>;

export function riskSets(columns: CoxColumns): RiskSets {
  const arrangement = arrangeRows(columns);
  const names = Object.keys(columns.covariates);
  const { z, centre, scale, range } = standardised(
    Object.values(columns.covariates),
    columns.weight,
    arrangement.order,
  );
  const offset = columns.offset === undefined ? undefined : permuted(columns.offset, arrangement.order);
  return {
    ...arrangement,
    p: names.length,
    names,
    z,
    centre,
    scale,
    range,
    offset,
    ...eventTotals(arrangement, z, offset),
  };
}

export function arrangeRows(
  columns: Pick<CoxColumns, 'time' | 'event' | 'entry' | 'weight' | 'strata'>,
): Arrangement {
  const { time, strata } = columns;
  const n = time.length;
  const sorted = stratifiedDescending(time, strata);
  const order = new Int32Array(n);
  const event = new Uint8Array(n);
  const groupTime = new Float64Array(n);
  const groupEnd = new Int32Array(n);
  const groupDeaths = new Int32Array(n);
  const stratumEnd = new Int32Array(strata === undefined ? 1 : strata.labels.length);
  let groups = 0;
  let events = 0;
  for (let first = 0; first < n; ) {
    const row = sorted[first] as number;
    const t = time[row] as number;
    const s = strata === undefined ? 0 : (strata.codes[row] as number);
    let end = first;
    let to = first;
    for (; end < n; end++) {
      const next = sorted[end] as number;
      if (time[next] !== t || (strata !== undefined && strata.codes[next] !== s)) break;
      if (columns.event[next] === 0) continue;
      event[to] = 1;
      order[to] = next;
      to++;
    }
    groupDeaths[groups] = to - first;
    events += to - first;
    for (let i = first; i < end && to < end; i++) {
      const next = sorted[i] as number;
      if (columns.event[next] === 0) order[to++] = next;
    }
    groupTime[groups] = t;
    groupEnd[groups] = end;
    groups++;
    stratumEnd[s] = groups;
    first = end;
  }
  return {
    n,
    order,
    event,
    weight: columns.weight === undefined ? undefined : permuted(columns.weight, order),
    groups,
    groupTime: groupTime.subarray(0, groups),
    groupEnd: groupEnd.subarray(0, groups),
    groupDeaths: groupDeaths.subarray(0, groups),
    stratumEnd,
    ...entryArrangement(columns.entry, strata, order),
    events,
  };
}

export function permuted(column: Float64Array, order: Int32Array): Float64Array {
  const result = new Float64Array(order.length);
  for (let i = 0; i < order.length; i++) result[i] = column[order[i] as number] as number;
  return result;
}

function stratifiedDescending(time: Float64Array, strata: CoxColumns['strata']): Int32Array {
  const order = descendingOrder(time);
  return strata === undefined ? order : orderByKey(strata.codes, strata.labels.length, order);
}

function entryArrangement(
  entry: Float64Array | undefined,
  strata: CoxColumns['strata'],
  order: Int32Array,
): Pick<RiskSets, 'entryOrder' | 'entryTime'> {
  if (entry === undefined) return { entryOrder: undefined, entryTime: undefined };
  const place = new Int32Array(order.length);
  for (let i = 0; i < order.length; i++) place[order[i] as number] = i;
  const rows = stratifiedDescending(entry, strata);
  return { entryOrder: rows.map(row => place[row] as number), entryTime: permuted(entry, rows) };
}

function standardised(
  columns: readonly Float64Array[],
  weight: Float64Array | undefined,
  order: Int32Array,
): Pick<RiskSets, 'z' | 'centre' | 'scale' | 'range'> {
  const n = order.length;
  const p = columns.length;
  const z = new Float64Array(n * p);
  const moments = columns.map(column => momentsOf(column, weight));
  const means = moments.map(m => m.mean);
  const inverses = moments.map(m => 1 / m.sd);
  const place = new Int32Array(n);
  for (let i = 0; i < n; i++) place[order[i] as number] = i;
  // The columns are read in their own order and whole rows written: one far step a row, not one a value.
  for (let row = 0; row < n; row++) {
    const to = (place[row] as number) * p;
    for (let j = 0; j < p; j++) {
      const value = (columns[j] as Float64Array)[row] as number;
      z[to + j] = (value - (means[j] as number)) * (inverses[j] as number);
    }
  }
  return {
    z,
    centre: Float64Array.from(moments, m => m.mean),
    scale: Float64Array.from(moments, m => m.sd),
    range: Float64Array.from(moments, m => m.range),
  };
}

interface Moments {
  readonly mean: number;
  readonly sd: number;
  readonly range: number;
}

/** Weighted mean and standard deviation, about the first value so that one pass loses no digits that matter. */
function momentsOf(column: Float64Array, weight: Float64Array | undefined): Moments {
  const origin = column[0] as number;
  let total = 0;
  let sum = 0;
  let squares = 0;
  let least = origin;
  let most = origin;
  for (let i = 0; i < column.length; i++) {
    const x = column[i] as number;
    const w = weight === undefined ? 1 : (weight[i] as number);
    const d = x - origin;
    total += w;
    sum += w * d;
    squares += w * d * d;
    if (x < least) least = x;
    if (x > most) most = x;
  }
  const shift = sum / total;
  const variance = squares / total - shift * shift;
  // The scale is only a unit to compute in; where the difference has cancelled, the range is as good.
  const sd = variance > 1e-8 * shift * shift ? Math.sqrt(variance) : most - least;
  return { mean: origin + shift, sd, range: (most - least) / sd };
}

function eventTotals(
  { n, event, weight, groups, groupEnd }: Arrangement,
  z: Float64Array,
  offset: Float64Array | undefined,
): Pick<RiskSets, 'eventTotal' | 'eventOffset' | 'eventWeights' | 'eventWeight'> {
  const p = z.length / n;
  const eventTotal = new Float64Array(p);
  const eventWeight = weight === undefined ? undefined : new Float64Array(groups);
  let eventOffset = 0;
  let eventWeights = 0;
  for (let i = 0, group = 0; i < n; i++) {
    if (i === groupEnd[group]) group++;
    if (event[i] === 0) continue;
    const w = weight === undefined ? 1 : (weight[i] as number);
    eventWeights += w;
    if (eventWeight !== undefined) eventWeight[group] = (eventWeight[group] as number) + w;
    if (offset !== undefined) eventOffset += w * (offset[i] as number);
    for (let j = 0; j < p; j++) eventTotal[j] = (eventTotal[j] as number) + w * (z[i * p + j] as number);
  }
  return { eventTotal, eventOffset, eventWeights, eventWeight };
}
