import { StatisticsError } from '../../errors.ts';
import { finiteColumnOf } from '../../columns.ts';
import { ascendingOrder, orderByCode } from '../order.ts';
import { checkedColumns } from './columns.ts';
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
 */
export function concordance(
  data: Omit<CoxData, 'covariates' | 'offset'> & { readonly score: ArrayLike<number> },
): Concordance {
  const columns = checkedColumns({ ...data, covariates: { score: data.score } });
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
  const { n, weight } = sets;
  const ranks = stratumRanks(sets, score);
  const size = ranks.most.reduce((a, b) => Math.max(a, b), 0) + 1;
  // Whole-number counts halve the memory the tree walks over.
  const tree = weight === undefined ? new Int32Array(size) : new Float64Array(size);
  const own = weight === undefined ? new Int32Array(size) : new Float64Array(size);
  const concordant = new Float64Array(n);
  const comparable = new Float64Array(n);
  const totals = countAsEvent(sets, ranks, tree, own, concordant, comparable);
  if (!(totals.comparable > 0)) return { estimate: undefined, standardError: undefined };
  countAsPartner(sets, ranks, tree, own, concordant, comparable);
  const estimate = totals.concordant / totals.comparable;
  // The derivative of the ratio by each row's weight, times that weight.
  const influence = concordant;
  for (let i = 0; i < n; i++) {
    const w = weight === undefined ? 1 : (weight[i] as number);
    influence[i] =
      (w * ((concordant[i] as number) - estimate * (comparable[i] as number))) / totals.comparable;
  }
  let sums = influence;
  if (cluster !== undefined) {
    sums = new Float64Array(cluster.labels.length);
    for (let i = 0; i < n; i++) {
      const c = cluster.codes[sets.order[i] as number] as number;
      sums[c] = (sums[c] as number) + (influence[i] as number);
    }
  }
  let variance = 0;
  for (let i = 0; i < sums.length; i++) variance += (sums[i] as number) ** 2;
  return { estimate, standardError: Math.sqrt(variance) };
}

type Tree = Int32Array | Float64Array;

/** Down in time: each event against the risk set at its time. */
function countAsEvent(
  sets: Arrangement,
  { rank, most }: StratumRanks,
  tree: Tree,
  own: Tree,
  concordant: Float64Array,
  comparable: Float64Array,
): { concordant: number; comparable: number } {
  const { event, weight, groupTime, groupEnd, groupDeaths, stratumEnd, entryOrder, entryTime } = sets;
  let concordantTotal = 0;
  let comparableTotal = 0;
  let row = 0;
  let group = 0;
  for (let s = 0; s < stratumEnd.length; s++) {
    let entered = row;
    let atRisk = 0;
    const top = most[s] as number;
    tree.fill(0, 0, top + 1);
    own.fill(0, 0, top + 1);
    for (; group < (stratumEnd[s] as number); group++) {
      const first = row;
      const end = groupEnd[group] as number;
      if (entryOrder !== undefined && entryTime !== undefined && (groupDeaths[group] as number) > 0) {
        while (entered < first && (entryTime[entered] as number) >= (groupTime[group] as number)) {
          const place = entryOrder[entered] as number;
          atRisk -= addTo(
            tree,
            own,
            top,
            rank[place] as number,
            weight === undefined ? 1 : (weight[place] as number),
            -1,
          );
          entered++;
        }
      }
      for (let i = first; i < end; i++) {
        if (event[i] === 1) continue;
        atRisk += addTo(
          tree,
          own,
          top,
          rank[i] as number,
          weight === undefined ? 1 : (weight[i] as number),
          1,
        );
      }
      for (let i = first; i < end; i++) {
        if (event[i] === 0) continue;
        const r = rank[i] as number;
        const wins = sumTo(tree, r - 1) + (own[r] as number) / 2;
        concordant[i] = wins;
        comparable[i] = atRisk;
        const w = weight === undefined ? 1 : (weight[i] as number);
        concordantTotal += w * wins;
        comparableTotal += w * atRisk;
      }
      for (let i = first; i < end; i++) {
        if (event[i] === 0) continue;
        atRisk += addTo(
          tree,
          own,
          top,
          rank[i] as number,
          weight === undefined ? 1 : (weight[i] as number),
          1,
        );
      }
      row = end;
    }
  }
  return { concordant: concordantTotal, comparable: comparableTotal };
}

/** Up in time: each row against the events that happen while it is at risk. */
function countAsPartner(
  sets: Arrangement,
  { rank, most }: StratumRanks,
  tree: Tree,
  own: Tree,
  concordant: Float64Array,
  comparable: Float64Array,
): void {
  const { event, weight, groupTime, groupEnd, stratumEnd, entryOrder, entryTime } = sets;
  for (let s = 0; s < stratumEnd.length; s++) {
    const firstGroup = s === 0 ? 0 : (stratumEnd[s - 1] as number);
    const lastGroup = stratumEnd[s] as number;
    const firstRow = firstGroup === 0 ? 0 : (groupEnd[firstGroup - 1] as number);
    let entering = lastGroup === 0 ? 0 : (groupEnd[lastGroup - 1] as number);
    let happened = 0;
    const top = most[s] as number;
    tree.fill(0, 0, top + 1);
    own.fill(0, 0, top + 1);
    const count = (i: number, sign: number): void => {
      const r = rank[i] as number;
      const upTo = sumTo(tree, r);
      const wins = happened - upTo + (own[r] as number) / 2;
      concordant[i] = (concordant[i] as number) + sign * wins;
      comparable[i] = (comparable[i] as number) + sign * happened;
    };
    for (let group = lastGroup - 1; group >= firstGroup; group--) {
      const first = group === 0 ? 0 : (groupEnd[group - 1] as number);
      const end = groupEnd[group] as number;
      if (entryOrder !== undefined && entryTime !== undefined) {
        // Events at or before entry are not met: they are taken off before the next time's are added.
        while (entering > firstRow && (entryTime[entering - 1] as number) < (groupTime[group] as number)) {
          entering--;
          count(entryOrder[entering] as number, -1);
        }
      }
      for (let i = first; i < end; i++) if (event[i] === 1) count(i, 1);
      for (let i = first; i < end; i++) {
        if (event[i] === 0) continue;
        happened += addTo(
          tree,
          own,
          top,
          rank[i] as number,
          weight === undefined ? 1 : (weight[i] as number),
          1,
        );
      }
      for (let i = first; i < end; i++) if (event[i] === 0) count(i, 1);
    }
  }
}

/** Ranks 1, 2, ... of the scores within each stratum, equal scores sharing one, and the highest of each. */
interface StratumRanks {
  readonly rank: Int32Array;
  readonly most: Int32Array;
}

function stratumRanks(sets: Arrangement, score: Float64Array): StratumRanks {
  const { n, groupEnd, stratumEnd } = sets;
  let order = ascendingOrder(score);
  if (stratumEnd.length > 1) {
    const codes = new Int32Array(n);
    let from = 0;
    for (const [s, lastGroup] of stratumEnd.entries()) {
      const end = lastGroup === 0 ? 0 : (groupEnd[lastGroup - 1] as number);
      codes.fill(s, from, end);
      from = end;
    }
    order = orderByCode(order, codes, stratumEnd.length);
  }
  const rank = new Int32Array(n);
  const most = new Int32Array(stratumEnd.length);
  let at = 0;
  for (const [s, lastGroup] of stratumEnd.entries()) {
    const end = lastGroup === 0 ? 0 : (groupEnd[lastGroup - 1] as number);
    let r = 0;
    let last = 0;
    for (; at < end; at++) {
      const i = order[at] as number;
      const value = score[i] as number;
      if (r === 0 || value !== last) r++;
      last = value;
      rank[i] = r;
    }
    most[s] = r;
  }
  return { rank, most };
}

/** Adds to a Fenwick tree (1994, Softw Pract Exp 24:327) and to the plain counts; returns the weight. */
function addTo(tree: Tree, own: Tree, top: number, rank: number, weight: number, sign: number): number {
  const change = sign * weight;
  own[rank] = (own[rank] as number) + change;
  for (let k = rank; k <= top; k += k & -k) tree[k] = (tree[k] as number) + change;
  return weight;
}

function sumTo(tree: Tree, rank: number): number {
  let sum = 0;
  for (let k = rank; k > 0; k -= k & -k) sum += tree[k] as number;
  return sum;
}
