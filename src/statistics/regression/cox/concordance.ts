import { StatisticsError } from '../../errors.ts';
import { finiteColumnOf } from '../../columns.ts';
import { checkedRows } from './columns.ts';
import { countPairs } from './concordant-pairs.ts';
import { type Arrangement, arrangeRows, permuted } from './risk-sets.ts';
import type { CoxData, CoxLabels } from './types.ts';

export interface Concordance {
  /** Absent if no two rows can be compared. */
  readonly estimate: number | undefined;
  readonly standardError: number | undefined;
}

/**
 * Harrell's concordance of a risk score with survival: the share of comparable pairs in which the row with
 * the earlier event has the higher score, an equal score counting half.
 *
 * A pair is comparable if one row has an event at t and the other is in the risk set at t (late entry
 * and strata as in `coxModel`) without an event at t: pairs of tied events are left out, and an event
 * comes before a censoring at the same time. With weights a pair counts the product of its weights.
 * The standard error is the infinitesimal jackknife's, summed by cluster if there are clusters.
 *
 * Source: Harrell, Califf, Pryor, Lee and Rosati (1982), JAMA 247:2543. Time n log n.
 *
 * @throws StatisticsError for unusable columns
 * @example concordance({ time, event, score: severe }).estimate // 0.4048
 */
export function concordance(
  data: Omit<CoxData, 'covariates' | 'offset'> & { readonly score: ArrayLike<number> },
): Concordance {
  const columns = checkedRows(data);
  const sets = arrangeRows(columns);
  if (sets.events === 0)
    throw new StatisticsError('no-events', 'event is 0 in every row; no pair is comparable');
  const score = finiteColumnOf('score', data.score, sets.n);
  return concordanceOfRisks(sets, permuted(score, sets.order), columns.cluster);
}

/** As `concordance`, for scores in the arranged order. */
export function concordanceOfRisks(
  sets: Arrangement,
  score: Float64Array,
  cluster: CoxLabels | undefined,
): Concordance {
  const { n, weight, order } = sets;
  const { concordant, comparable, places } = countPairs(sets, score, cluster !== undefined);
  const placeOf = (i: number): number => (places === undefined ? i : (places[i] as number));
  let concordantTotal = 0;
  let comparableTotal = 0;
  for (let i = 0; i < n; i++) {
    const w = weight === undefined ? 1 : (weight[placeOf(i)] as number);
    concordantTotal += w * (concordant[i] as number);
    comparableTotal += w * (comparable[i] as number);
  }
  if (!(comparableTotal > 0)) return { estimate: undefined, standardError: undefined };
  const estimate = concordantTotal / comparableTotal;
  // Each pair was counted with both its rows; the derivative of the ratio by a row's weight is with one.
  const clusters = new Float64Array(cluster === undefined ? 0 : cluster.labels.length);
  let variance = 0;
  for (let i = 0; i < n; i++) {
    const w = weight === undefined ? 1 : (weight[placeOf(i)] as number);
    const influence =
      (2 * w * ((concordant[i] as number) - estimate * (comparable[i] as number))) / comparableTotal;
    if (cluster === undefined) variance += influence * influence;
    else {
      const c = cluster.codes[order[placeOf(i)] as number] as number;
      clusters[c] = (clusters[c] as number) + influence;
    }
  }
  for (let c = 0; c < clusters.length; c++) variance += (clusters[c] as number) ** 2;
  return { estimate, standardError: Math.sqrt(variance) };
}
