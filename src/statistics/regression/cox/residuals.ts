import { StatisticsError } from '../../errors.ts';
import { eventsBeforeEntry, eventTerms, runningTotals } from './event-terms.ts';
import { type Fitted, fitted } from './fitted.ts';
import { clusterSums, scoreResiduals } from './score-residuals.ts';
import type { CoxModel } from './types.ts';

export type CoxRowResidual = 'martingale' | 'deviance';
export type CoxVectorResidual = 'schoenfeld' | 'scaled-schoenfeld' | 'score' | 'dfbeta';

export interface CoxResidualOptions {
  /**
   * `'cluster'` sums over the rows of each cluster, clusters in ascending order of their labels; for
   * martingale, score and dfbeta residuals of a model with clusters. Default `'row'`.
   */
  readonly by?: 'row' | 'cluster' | undefined;
}

/**
 * Residuals of a Cox model.
 *
 * - `martingale`: events less expected events, one a row, in the order of the data
 * - `deviance`: the martingale residual transformed to be symmetric about 0 (by the row itself)
 * - `score`: what the row adds to the score, one value a covariate, without its weight
 * - `dfbeta`: score residual times weight times the inverse information: about how much each
 *   coefficient changes when the row is left out, in the units of the coefficients
 * - `schoenfeld`: for each event, the covariates less their mean in the risk set (under Efron's ties the
 *   average of the means of the tied terms); by stratum, then time, then the order of the data (see
 *   `schoenfeldTimes`)
 * - `scaled-schoenfeld`: number of events times inverse information times Schoenfeld residual, plus the
 *   coefficient: its trend in time is that of the coefficient
 *
 * Source: Therneau, Grambsch and Fleming (1990), Biometrika 77:147; Schoenfeld (1982), Biometrika 69:239;
 * Grambsch and Therneau (1994), Biometrika 81:515.
 *
 * @returns one number a row (martingale, deviance) or one array a row or event, with one value a covariate
 * @throws StatisticsError `not-converged`; `missing-argument` for `by: 'cluster'` without clusters;
 * `unknown-option` for a kind that is not listed, or that has no sum by cluster
 * @example coxResiduals(model, 'martingale').slice(0, 2) // [0.8288, 0.826]
 */
export function coxResiduals(model: CoxModel, kind: CoxRowResidual, options?: CoxResidualOptions): number[];
export function coxResiduals(
  model: CoxModel,
  kind: CoxVectorResidual,
  options?: CoxResidualOptions,
): number[][];
export function coxResiduals(
  model: CoxModel,
  kind: CoxRowResidual | CoxVectorResidual,
  options: CoxResidualOptions = {},
): number[] | number[][] {
  const fit = fitted(model);
  const { sets } = fit;
  const byCluster = options.by === 'cluster';
  if (byCluster && kind !== 'martingale' && kind !== 'score' && kind !== 'dfbeta') {
    throw new StatisticsError('unknown-option', `by is cluster; ${kind} residuals have no sum by cluster`);
  }
  const cluster = model.data.cluster;
  if (byCluster && cluster === undefined) {
    throw new StatisticsError('missing-argument', 'by is cluster; the model was fitted without clusters');
  }
  switch (kind) {
    case 'martingale':
    case 'deviance': {
      const martingale = martingaleResiduals(fit, model);
      if (kind === 'deviance') return devianceResiduals(fit, martingale);
      if (byCluster && cluster !== undefined) return Array.from(clusterSums(sets, martingale, cluster));
      return inRowOrder(fit, martingale, 1).map(row => row[0] as number);
    }
    case 'score':
    case 'dfbeta': {
      const residuals = scoreResiduals(sets, model.ties, fit.beta, fit.work);
      const p = sets.p;
      if (kind === 'dfbeta') toCoefficients(fit, model, residuals, !byCluster);
      else
        for (let k = 0; k < residuals.length; k++)
          residuals[k] = (residuals[k] as number) * (sets.scale[k % p] as number);
      if (byCluster && cluster !== undefined) return rowsOf(clusterSums(sets, residuals, cluster), p);
      return inRowOrder(fit, residuals, p);
    }
    case 'schoenfeld':
      return schoenfeldResiduals(fit, model);
    case 'scaled-schoenfeld':
      return scaledSchoenfeldResiduals(fit, model);
    default:
      throw new StatisticsError('unknown-option', `kind is ${String(kind)}; it is not a kind of residual`);
  }
}

/**
 * Time, stratum (if any) and row of the data for each Schoenfeld residual of `coxResiduals`, in their order.
 *
 * @example schoenfeldTimes(model).map(({ time }) => time) // [42, 56, 70, 84, 98]
 */
export function schoenfeldTimes(
  model: CoxModel,
): { readonly time: number; readonly stratum: string | number | undefined; readonly row: number }[] {
  const { sets } = fitted(model);
  const { strata, time } = model.data;
  return eventPlaces(sets).map(place => {
    const row = sets.order[place] as number;
    return {
      time: time[row] as number,
      stratum: strata === undefined ? undefined : strata.labels[strata.codes[row] as number],
      row,
    };
  });
}

function martingaleResiduals({ sets, work }: Fitted, model: CoxModel): Float64Array {
  const events = eventTerms(sets, model.ties, work);
  const hazard = runningTotals(sets, events, events.hazard, 1);
  const beforeEntry = eventsBeforeEntry(sets, events);
  const residuals = new Float64Array(sets.n);
  for (let i = 0, group = 0; i < sets.n; i++) {
    if (i === sets.groupEnd[group]) group++;
    const e = events.atGroup[group] as number;
    if (e < 0) continue;
    const start = beforeEntry === undefined ? -1 : (beforeEntry[i] as number);
    const died = sets.event[i] as number;
    const r = (work.risk[i] as number) / (sets.weight === undefined ? 1 : (sets.weight[i] as number));
    const borne =
      (hazard[e] as number) -
      (start < 0 ? 0 : (hazard[start] as number)) -
      (died === 1 ? (events.share[e] as number) : 0);
    residuals[i] = died - r * borne;
  }
  return residuals;
}

function devianceResiduals(fit: Fitted, martingale: Float64Array): number[] {
  const { event, order, n } = fit.sets;
  const residuals = Array.from({ length: n }, () => 0);
  for (let i = 0; i < n; i++) {
    const m = martingale[i] as number;
    const d = event[i] as number;
    const expected = Math.max(0, d - m);
    // d log(d / expected) - (d - expected), which is not negative but for rounding.
    const half = (d === 1 && expected > 0 ? -Math.log(expected) : 0) - m;
    residuals[order[i] as number] = Math.sign(m) * Math.sqrt(Math.max(0, 2 * half));
  }
  return residuals;
}

function schoenfeldResiduals({ sets, work }: Fitted, model: CoxModel): number[][] {
  const events = eventTerms(sets, model.ties, work);
  const { p, z, scale } = sets;
  const groupOf = new Int32Array(sets.n);
  for (let i = 0, group = 0; i < sets.n; i++) {
    if (i === sets.groupEnd[group]) group++;
    groupOf[i] = group;
  }
  return eventPlaces(sets).map(place => {
    const e = events.atGroup[groupOf[place] as number] as number;
    return Array.from(
      { length: p },
      (_, j) => ((z[place * p + j] as number) - (events.mean[e * p + j] as number)) * (scale[j] as number),
    );
  });
}

function scaledSchoenfeldResiduals(fit: Fitted, model: CoxModel): number[][] {
  const covariance = model.naiveCovariance ?? [];
  return schoenfeldResiduals(fit, model).map(residual =>
    covariance.map((row, j) => {
      let sum = 0;
      for (const [k, value] of row.entries()) sum += value * (residual[k] as number);
      return sum * model.events + (model.terms[j]?.coefficient ?? 0);
    }),
  );
}

/** Places of the events by stratum, ascending time, and the order of the data within a time. */
function eventPlaces({ stratumEnd, groupEnd, groupDeaths }: Fitted['sets']): number[] {
  const places: number[] = [];
  let first = 0;
  for (const last of stratumEnd) {
    for (let group = last - 1; group >= first; group--) {
      const start = group === 0 ? 0 : (groupEnd[group - 1] as number);
      for (let k = 0; k < (groupDeaths[group] as number); k++) places.push(start + k);
    }
    first = Math.max(first, last);
  }
  return places;
}

/** Score residuals in scaled covariates to changes of coefficients, in place. */
function toCoefficients({ sets }: Fitted, model: CoxModel, residuals: Float64Array, weighted: boolean): void {
  const { n, p, scale, weight } = sets;
  const covariance = model.naiveCovariance ?? [];
  const change = new Float64Array(p);
  for (let i = 0; i < n; i++) {
    const w = weighted && weight !== undefined ? (weight[i] as number) : 1;
    for (const [j, row] of covariance.entries()) {
      let sum = 0;
      for (let k = 0; k < p; k++)
        sum += (row[k] as number) * (scale[k] as number) * (residuals[i * p + k] as number);
      change[j] = sum * w;
    }
    residuals.set(change, i * p);
  }
}

function rowsOf(values: Float64Array, p: number): number[][] {
  return Array.from({ length: values.length / p }, (_, i) => Array.from(values.subarray(i * p, (i + 1) * p)));
}

function inRowOrder({ sets }: Fitted, values: Float64Array, p: number): number[][] {
  const rows: number[][] = Array.from({ length: sets.n });
  for (let i = 0; i < sets.n; i++) {
    rows[sets.order[i] as number] = Array.from(values.subarray(i * p, (i + 1) * p));
  }
  return rows;
}
