import { distinctTimes, firstLater } from '../distinct-times.ts';
import type { FollowUp } from './follow-up.ts';

/**
 * Sums of weights at each distinct exit time. A row is at risk at t if entry < t <= exit (from the origin
 * without entry).
 */
export interface RiskSets {
  readonly times: Float64Array;
  /** For each row the place of its exit among `times`. */
  readonly place: Int32Array;
  /** For each row the first place at which it is at risk; absent if all are from the start. */
  readonly entryPlace: Int32Array | undefined;
  readonly atRisk: Float64Array;
  readonly events: Float64Array;
  readonly censored: Float64Array;
}

/**
 * Counts who is at risk just before each distinct exit time, and who leaves at it, with an event or without.
 * Linear but for the sort.
 */
export function riskSets(rows: FollowUp): RiskSets {
  const { times, place } = distinctTimes(rows.time);
  const size = times.length;
  const entryPlace = rows.entry && entryPlaces(times, rows.entry);
  const events = sumByPlace(place, size, rows.weight, rows.event, 1);
  const leaving = sumByPlace(place, size, rows.weight);
  // Counts are exact, so that those censored need no walk of their own; fractional weights do.
  const censored = rows.weight
    ? sumByPlace(place, size, rows.weight, rows.event, 0)
    : leaving.map((all, k) => all - (events[k] as number));
  const atRisk = atRiskSums(size, leaving, entryPlace && sumByPlace(entryPlace, size, rows.weight));
  const sets = { times, place, entryPlace, atRisk, events, censored };
  if (rows.weight) exactWhereAllFail(rows, sets);
  return sets;
}

function entryPlaces(times: Float64Array, entry: Float64Array): Int32Array {
  const places = new Int32Array(entry.length);
  for (let i = 0; i < places.length; i++) {
    const at = entry[i] as number;
    places[i] = at > 0 ? firstLater(times, at) : 0;
  }
  return places;
}

/** Sums of weights (or counts) of rows by place; of all rows, or of those whose `flag` is `wanted`. */
function sumByPlace(
  place: Int32Array,
  size: number,
  weight?: Float64Array,
  flag?: Uint8Array,
  wanted = 1,
): Float64Array {
  const sums = new Float64Array(size);
  for (let i = 0; i < place.length; i++) {
    if (flag !== undefined && flag[i] !== wanted) continue;
    const k = place[i] as number;
    sums[k] = (sums[k] as number) + (weight ? (weight[i] as number) : 1);
  }
  return sums;
}

function atRiskSums(size: number, leaving: Float64Array, entering: Float64Array | undefined): Float64Array {
  const atRisk = new Float64Array(size);
  let stillHere = 0;
  let notYetHere = 0;
  for (let k = size - 1; k >= 0; k--) {
    stillHere += leaving[k] as number;
    atRisk[k] = stillHere - notYetHere;
    if (entering) notYetHere += entering[k] as number;
  }
  return atRisk;
}

/**
 * Where every row at risk has its event, the two sums of weights are the same number and must not differ by
 * rounding.
 */
function exactWhereAllFail(rows: FollowUp, sets: RiskSets): void {
  const counted = rows.weight && Float64Array.from(rows.weight, w => (w > 0 ? 1 : 0));
  const { place, entryPlace, atRisk, events } = sets;
  const size = atRisk.length;
  const here = atRiskSums(
    size,
    sumByPlace(place, size, counted),
    entryPlace && sumByPlace(entryPlace, size, counted),
  );
  const failing = sumByPlace(place, size, counted, rows.event, 1);
  for (let k = 0; k < size; k++) {
    if (here[k] === failing[k]) atRisk[k] = events[k] as number;
  }
}
