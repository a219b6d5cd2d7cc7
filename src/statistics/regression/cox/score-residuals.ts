import { type EventTerms, eventsBeforeEntry, eventTerms, runningTotals } from './event-terms.ts';
import { type Carried } from './partial-likelihood.ts';
import { relativeRisks, type Workspace } from './workspace.ts';
import type { RiskSets } from './risk-sets.ts';
import type { CoxLabels, CoxTies } from './types.ts';

/**
 * Score residuals without weights, in the scaled covariates and the arranged order, n x p: what the row
 * adds to the score, the integral of (z - mean of the risk set) over the row's martingale.
 *
 * Source: Therneau, Grambsch and Fleming (1990), Biometrika 77:147; for Efron's ties each tied event
 * stands in the k-th of d terms with the share 1 - k/d.
 */
export function scoreResiduals(
  sets: RiskSets,
  ties: CoxTies,
  beta: Float64Array,
  work: Workspace,
  carried?: Carried,
): Float64Array {
  const { n, p, z, event, weight, groupEnd } = sets;
  relativeRisks(sets, beta, work);
  const events = eventTerms(sets, ties, work, carried);
  const hazard = runningTotals(sets, events, events.hazard, 1);
  const hazardMean = runningTotals(sets, events, events.hazardMean, p);
  const beforeEntry = eventsBeforeEntry(sets, events);
  const residuals = new Float64Array(n * p);
  let group = 0;
  for (let i = 0; i < n; i++) {
    if (i === groupEnd[group]) group++;
    const e = events.atGroup[group] as number;
    if (e < 0) continue;
    const start = beforeEntry === undefined ? -1 : (beforeEntry[i] as number);
    const died = event[i] === 1;
    const r = (work.risk[i] as number) / (weight === undefined ? 1 : (weight[i] as number));
    const borne =
      (hazard[e] as number) -
      (start < 0 ? 0 : (hazard[start] as number)) -
      (died ? (events.share[e] as number) : 0);
    for (let j = 0; j < p; j++) {
      const x = z[i * p + j] as number;
      const means =
        (hazardMean[e * p + j] as number) -
        (start < 0 ? 0 : (hazardMean[start * p + j] as number)) -
        (died ? (events.shareMean[e * p + j] as number) : 0);
      const own = died ? x - (events.mean[e * p + j] as number) : 0;
      residuals[i * p + j] = own - r * (x * borne - means);
    }
  }
  if (carried !== undefined) addCarried(sets, events, work, carried, residuals);
  return residuals;
}

/** Carried rows meet the hazard after their exit too, in proportion to their weight there. */
function addCarried(
  sets: RiskSets,
  events: EventTerms,
  work: Workspace,
  carried: Carried,
  residuals: Float64Array,
): void {
  const { p, z, groupEnd } = sets;
  const { hazard, hazardMean } = carriedTotals(sets, events, carried);
  for (let i = 0, group = 0; i < sets.n; i++) {
    if (i === groupEnd[group]) group++;
    const factor = carried.factor[i] as number;
    if (!(factor > 0) || events.count === 0) continue;
    const e = events.atGroup[group] as number;
    const r = factor * (work.risk[i] as number);
    const later = (hazard[0] as number) - (e < 0 ? 0 : (hazard[e] as number));
    for (let j = 0; j < p; j++) {
      const laterMean = (hazardMean[j] as number) - (e < 0 ? 0 : (hazardMean[e * p + j] as number));
      residuals[i * p + j] =
        (residuals[i * p + j] as number) - r * ((z[i * p + j] as number) * later - laterMean);
    }
  }
}

/** Running totals of the hazard, and of hazard times mean, weighted by the carried rows' weight at each time. */
export function carriedTotals(
  sets: RiskSets,
  events: EventTerms,
  carried: Carried,
): { hazard: Float64Array; hazardMean: Float64Array } {
  const p = sets.p;
  const weighted = (values: Float64Array, width: number): Float64Array =>
    values.map(
      (value, k) => value * (carried.groupWeight[events.group[Math.floor(k / width)] as number] as number),
    );
  return {
    hazard: runningTotals(sets, events, weighted(events.hazard, 1), 1),
    hazardMean: runningTotals(sets, events, weighted(events.hazardMean, p), p),
  };
}

/** Weighted sums by cluster of an n x p array in the arranged order; clusters in the order of their labels. */
export function clusterSums(
  sets: Pick<RiskSets, 'n' | 'order' | 'weight'>,
  residuals: Float64Array,
  cluster: CoxLabels,
): Float64Array {
  const p = residuals.length / sets.n;
  const sums = new Float64Array(cluster.labels.length * p);
  for (let i = 0; i < sets.n; i++) {
    const to = (cluster.codes[sets.order[i] as number] as number) * p;
    const w = sets.weight === undefined ? 1 : (sets.weight[i] as number);
    for (let j = 0; j < p; j++) {
      sums[to + j] = (sums[to + j] as number) + w * (residuals[i * p + j] as number);
    }
  }
  return sums;
}

/** X'X of an array of rows of p. */
export function crossProduct(rows: Float64Array, p: number): Float64Array {
  const product = new Float64Array(p * p);
  for (let at = 0; at < rows.length; at += p) {
    for (let i = 0; i < p; i++) {
      const x = rows[at + i] as number;
      for (let j = 0; j < p; j++) {
        product[i * p + j] = (product[i * p + j] as number) + x * (rows[at + j] as number);
      }
    }
  }
  return product;
}

/** A (X'X) A for a symmetric p x p matrix A and rows X: the robust covariance. */
export function sandwich(a: Float64Array, rows: Float64Array): Float64Array {
  const p = Math.sqrt(a.length);
  const changes = new Float64Array(rows.length);
  for (let at = 0; at < rows.length; at += p) {
    for (let i = 0; i < p; i++) {
      let sum = 0;
      for (let k = 0; k < p; k++) sum += (a[i * p + k] as number) * (rows[at + k] as number);
      changes[at + i] = sum;
    }
  }
  return crossProduct(changes, p);
}
