import { distinctTimes, firstLater, orderByKey } from '../distinct-times.ts';

/** Checked rows of a log-rank test; groups and strata as codes from 0. */
export interface LogRankRows {
  readonly time: Float64Array;
  readonly event: Uint8Array;
  readonly entry: Float64Array | undefined;
  readonly group: Int32Array;
  readonly groups: number;
  readonly stratum: Int32Array | undefined;
  readonly strata: number;
}

export interface LogRankSums {
  readonly observed: readonly number[];
  readonly expected: readonly number[];
  readonly covariance: readonly (readonly number[])[];
}

/** Counts of rows by place in time and group, in time order. */
interface Cells {
  readonly place: Int32Array;
  readonly group: Int32Array;
  readonly rows: Int32Array;
  readonly events: Int32Array;
}

/**
 * Observed, expected and covariance of the weighted log-rank test, summed over strata. Linear in rows but for
 * the sort.
 */
export function logRankSums(rows: LogRankRows, rho: number, gamma: number): LogRankSums {
  const { times, place } = distinctTimes(rows.time);
  const entryPlace = new Int32Array(rows.entry ? place.length : 0);
  for (let i = 0; i < entryPlace.length; i++) {
    const at = rows.entry?.[i] ?? 0;
    entryPlace[i] = at > 0 ? firstLater(times, at) : 0;
  }
  const g = rows.groups;
  const sums = {
    observed: new Float64Array(g),
    expected: new Float64Array(g),
    covariance: new Float64Array(g * g),
  };
  const leaving = cellsByStratum(rows, place, times.length);
  const entering = rows.entry && cellsByStratum(rows, entryPlace, times.length);
  for (const [s, cells] of leaving.entries()) sweep(cells, entering?.[s], sums, rho, gamma);
  return {
    observed: Array.from(sums.observed),
    expected: Array.from(sums.expected),
    covariance: Array.from(sums.observed, (_, a) =>
      Array.from(sums.observed, (_, b) => sums.covariance[Math.min(a, b) * g + Math.max(a, b)] ?? 0),
    ),
  };
}

/**
 * Few distinct times: every time and group has a cell. Many: every row is a cell of its own, so that no table
 * outgrows the rows.
 */
function cellsByStratum(rows: LogRankRows, place: Int32Array, times: number): Cells[] {
  const table = times * rows.groups;
  return table * rows.strata <= 2 * place.length + 1024
    ? tabulatedCells(rows, place, table)
    : rowCells(rows, place, times);
}

function tabulatedCells(rows: LogRankRows, place: Int32Array, table: number): Cells[] {
  const { groups, group, event, stratum, strata } = rows;
  const counts = new Int32Array(table * strata);
  const events = new Int32Array(table * strata);
  for (let i = 0; i < place.length; i++) {
    const s = stratum ? (stratum[i] as number) : 0;
    const cell = s * table + (place[i] as number) * groups + (group[i] as number);
    counts[cell] = (counts[cell] as number) + 1;
    events[cell] = (events[cell] as number) + (event[i] as number);
  }
  const cellPlace = Int32Array.from({ length: table }, (_, cell) => Math.floor(cell / groups));
  const cellGroup = Int32Array.from({ length: table }, (_, cell) => cell % groups);
  return Array.from({ length: strata }, (_, s) => ({
    place: cellPlace,
    group: cellGroup,
    rows: counts.subarray(s * table, (s + 1) * table),
    events: events.subarray(s * table, (s + 1) * table),
  }));
}

function rowCells(rows: LogRankRows, place: Int32Array, times: number): Cells[] {
  const size = new Int32Array(rows.strata);
  for (let i = 0; i < place.length; i++) {
    const s = rows.stratum ? (rows.stratum[i] as number) : 0;
    size[s] = (size[s] as number) + 1;
  }
  const cells = Array.from(size, count => ({
    place: new Int32Array(count),
    group: new Int32Array(count),
    rows: new Int32Array(count).fill(1),
    events: new Int32Array(count),
  }));
  const filled = new Int32Array(rows.strata);
  const order = orderByKey(place, times);
  for (let i = 0; i < order.length; i++) {
    const row = order[i] as number;
    const s = rows.stratum ? (rows.stratum[row] as number) : 0;
    const at = filled[s] as number;
    const part = cells[s] as (typeof cells)[number];
    part.place[at] = place[row] as number;
    part.group[at] = rows.group[row] as number;
    part.events[at] = rows.event[row] as number;
    filled[s] = at + 1;
  }
  return cells;
}

/** Goes through one stratum in time order with the numbers now at risk by group. */
function sweep(
  leaving: Cells,
  entering: Cells | undefined,
  sums: { observed: Float64Array; expected: Float64Array; covariance: Float64Array },
  rho: number,
  gamma: number,
): void {
  const groups = sums.observed.length;
  const atRisk = new Int32Array(groups);
  const failed = new Int32Array(groups);
  const size = leaving.place.length;
  const arriving = entering ?? { ...leaving, place: new Int32Array(size) };
  let here = 0;
  let entered = 0;
  let survival = 1;
  for (let from = 0; from < size; ) {
    const k = leaving.place[from] as number;
    for (; entered < arriving.place.length && (arriving.place[entered] as number) <= k; entered++) {
      const g = arriving.group[entered] as number;
      atRisk[g] = (atRisk[g] as number) + (arriving.rows[entered] as number);
      here += arriving.rows[entered] as number;
    }
    let to = from;
    let events = 0;
    for (; to < size && leaving.place[to] === k; to++) {
      const g = leaving.group[to] as number;
      failed[g] = (failed[g] as number) + (leaving.events[to] as number);
      events += leaving.events[to] as number;
    }
    if (events > 0) {
      const weight =
        (rho === 0 ? 1 : survival ** rho) * (gamma === 0 ? 1 : Math.max(0, 1 - survival) ** gamma);
      addTime(sums, atRisk, failed, here, events, weight);
      survival *= (here - events) / here;
      failed.fill(0);
    }
    for (; from < to; from++) {
      const g = leaving.group[from] as number;
      atRisk[g] = (atRisk[g] as number) - (leaving.rows[from] as number);
      here -= leaving.rows[from] as number;
    }
  }
}

function addTime(
  sums: { observed: Float64Array; expected: Float64Array; covariance: Float64Array },
  atRisk: Int32Array,
  failed: Int32Array,
  here: number,
  events: number,
  weight: number,
): void {
  const groups = atRisk.length;
  const spread = here > 1 ? (weight * weight * events * (here - events)) / (here - 1) : 0;
  for (let a = 0; a < groups; a++) {
    const share = (atRisk[a] as number) / here;
    sums.observed[a] = (sums.observed[a] as number) + weight * (failed[a] as number);
    sums.expected[a] = (sums.expected[a] as number) + weight * events * share;
    if (spread === 0 || share === 0) continue;
    const own = a * groups + a;
    sums.covariance[own] = (sums.covariance[own] as number) + spread * share * (1 - share);
    for (let b = a + 1; b < groups; b++) {
      const pair = a * groups + b;
      sums.covariance[pair] =
        (sums.covariance[pair] as number) - (spread * share * (atRisk[b] as number)) / here;
    }
  }
}
