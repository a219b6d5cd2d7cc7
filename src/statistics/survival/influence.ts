import { orderByKey } from '../distinct-times.ts';
import type { FollowUp } from './follow-up.ts';
import type { RiskSets } from './risk-sets.ts';

/**
 * Sum over clusters of the squared influence, at every distinct time, for an estimator whose influence for
 * row i is the weight times [ jump at the row's event, if it has happened ] minus [ drift gained while the
 * row was at risk ].
 *
 * The cluster's influence is F - W x drift, with W its weight now at risk and F changed only when one of its
 * rows enters or leaves. The sums of F squared, F W and W squared are kept up to date at those changes, so
 * that the work is linear in rows plus times and no table of rows by times is made.
 *
 * `jump[k]` is the contribution of an event at time k; `drift[k]` is cumulative up to and including time k.
 */
export function sumOfSquaredInfluence(
  rows: FollowUp,
  sets: RiskSets,
  jump: Float64Array,
  drift: Float64Array,
): Float64Array {
  if (!rows.cluster && !rows.entry) return squaresOfOwnRows(rows, sets, jump, drift);
  const { place, entryPlace } = sets;
  const { weight, cluster, event } = rows;
  const size = sets.times.length;
  const n = place.length;
  const leavers = orderByKey(place, size);
  const enterers = entryPlace ? orderByKey(entryPlace, size) : new Int32Array(0);
  const entries = entryPlace ?? place;
  const fixed = new Float64Array(rows.clusters);
  const here = new Float64Array(rows.clusters);
  const squares = new Float64Array(size);
  let fixedFixed = 0;
  let fixedHere = 0;
  let hereHere = 0;
  const change = (c: number, addFixed: number, addHere: number): void => {
    const f = fixed[c] as number;
    const w = here[c] as number;
    const newF = f + addFixed;
    const newW = w + addHere;
    fixedFixed += addFixed * (f + newF);
    fixedHere += newF * newW - f * w;
    hereHere += addHere * (w + newW);
    fixed[c] = newF;
    here[c] = newW;
  };
  if (!entryPlace)
    for (let i = 0; i < n; i++)
      change(cluster ? (cluster[i] as number) : i, 0, weight ? (weight[i] as number) : 1);
  let entered = 0;
  let left = 0;
  let before = 0;
  for (let k = 0; k < size; k++) {
    while (entered < enterers.length && entries[enterers[entered] as number] === k) {
      const i = enterers[entered++] as number;
      const w = weight ? (weight[i] as number) : 1;
      change(cluster ? (cluster[i] as number) : i, w * before, w);
    }
    before = drift[k] as number;
    while (left < n && place[leavers[left] as number] === k) {
      const i = leavers[left++] as number;
      const w = weight ? (weight[i] as number) : 1;
      const gained = event[i] === 1 ? (jump[k] as number) - before : -before;
      change(cluster ? (cluster[i] as number) : i, w * gained, -w);
    }
    squares[k] = differenceOfSums(fixedFixed + before * before * hereHere, 2 * before * fixedHere);
  }
  return squares;
}

/** a - b for sums that should not differ by less than nothing: what is left by rounding alone counts as 0. */
export function differenceOfSums(a: number, b: number): number {
  const difference = a - b;
  return difference > 1e-12 * a ? difference : 0;
}

/**
 * Every row a cluster of its own from the start: rows that leave at one time in one way have the same
 * influence, so counts will do.
 */
function squaresOfOwnRows(
  rows: FollowUp,
  sets: RiskSets,
  jump: Float64Array,
  drift: Float64Array,
): Float64Array {
  const size = sets.times.length;
  const failing = squaredWeights(rows, sets.place, size, rows.event, 1);
  const censored = squaredWeights(rows, sets.place, size, rows.event, 0);
  let here = failing.reduce((sum, w) => sum + w, 0) + censored.reduce((sum, w) => sum + w, 0);
  let gone = 0;
  return drift.map((g, k) => {
    const d = failing[k] as number;
    const c = censored[k] as number;
    gone += d * ((jump[k] as number) - g) ** 2 + c * g * g;
    here -= d + c;
    return gone + Math.max(0, here) * g * g;
  });
}

/** Sums of squared weights by place, of rows whose code is the one wanted. */
export function squaredWeights(
  rows: FollowUp,
  place: Int32Array,
  size: number,
  codes: ArrayLike<number>,
  wanted: number,
): Float64Array {
  const sums = new Float64Array(size);
  const { weight } = rows;
  for (let i = 0; i < place.length; i++) {
    if (codes[i] !== wanted) continue;
    const k = place[i] as number;
    const w = weight ? (weight[i] as number) : 1;
    sums[k] = (sums[k] as number) + w * w;
  }
  return sums;
}
