import { arrangeRows } from './risk-sets.ts';
import type { CoxColumns } from './types.ts';

/** Rows of a stratum (by its place among the labels) at risk just before a time: entry < t <= exit. */
export function atRiskCounter(columns: CoxColumns): (stratum: number, time: number) => number {
  const { groupTime, groupEnd, stratumEnd, entryTime } = arrangeRows(columns);
  const rowsBefore = (group: number): number => (group === 0 ? 0 : (groupEnd[group - 1] as number));
  return (stratum, time) => {
    const firstGroup = stratum === 0 ? 0 : (stratumEnd[stratum - 1] as number);
    const lastGroup = stratumEnd[stratum] as number;
    const exits = rowsBefore(firstBelow(groupTime, time, firstGroup, lastGroup)) - rowsBefore(firstGroup);
    if (entryTime === undefined) return exits;
    const firstRow = rowsBefore(firstGroup);
    return exits - (firstBelow(entryTime, time, firstRow, rowsBefore(lastGroup)) - firstRow);
  };
}

/** The first place from `from` on, before `to`, whose time is below `time`, in descending times. */
function firstBelow(times: Float64Array, time: number, from: number, to: number): number {
  let low = from;
  let high = to;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] as number) >= time) low = middle + 1;
    else high = middle;
  }
  return low;
}
