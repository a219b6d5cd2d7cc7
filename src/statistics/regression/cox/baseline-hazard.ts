import { confidenceLevel } from '../../confidence-level.ts';
import { normalQuantile } from '../../distributions/normal.ts';
import { StatisticsError } from '../../errors.ts';
import { eventTerms, runningTotals } from './event-terms.ts';
import { fitted, requireConverged } from './fitted.ts';
import type { CoxModel } from './types.ts';

/** Rows at ascending times; the strata one after another, in ascending order of their labels. */
export interface CoxCumulativeHazard {
  readonly time: number[];
  /** The stratum of each row; present if the model has strata. */
  readonly stratum?: (string | number)[];
  /** Rows at risk just before the time, and events and censorings at it, without weights. */
  readonly atRisk: number[];
  readonly events: number[];
  readonly censored: number[];
  readonly cumulativeHazard: number[];
  /** Of the cumulative hazard, with the uncertainty of the coefficients. */
  readonly standardError: number[];
  /** Log-transformed limits; absent before the first event. */
  readonly lower: (number | undefined)[];
  readonly upper: (number | undefined)[];
}

export interface CoxBaselineOptions {
  /** Whose hazard: all covariates 0 (default), their weighted means, or values by name. */
  readonly covariates?: 'zero' | 'mean' | Readonly<Record<string, number>> | undefined;
  readonly level?: number | undefined;
}

/**
 * Cumulative baseline hazard of a Cox model, in each stratum: one row for each distinct exit time.
 *
 * Breslow's estimator, and for Efron's ties the one that matches them (each of d tied events in turn
 * against a risk set in which the tied rows count less). Variance: that of the increments plus
 * d' V d, with V the covariance of the coefficients (robust if the model has clusters) and d the derivative of
 * the cumulative hazard. An offset, if the model has one, is taken as 0.
 *
 * Source: Breslow (1972), J R Stat Soc B 34:216; Tsiatis (1981), Ann Stat 9:93; Therneau and Grambsch
 * (2000), Modeling Survival Data, section 10.2.
 *
 * @throws StatisticsError `not-converged`, `missing-value` or `not-finite` for a covariate
 * @example coxBaselineHazard(model).cumulativeHazard // [0.1712, 0.3777, 0.6734, 1.093, 1.093, 1.778, 1.778]
 */
export function coxBaselineHazard(model: CoxModel, options: CoxBaselineOptions = {}): CoxCumulativeHazard {
  const level = options.level ?? model.level;
  confidenceLevel(level);
  requireConverged(model);
  const { sets, beta, work } = fitted(model);
  const p = sets.p;
  const x = scaledCovariates(sets, options.covariates ?? 'zero');
  let eta = -work.largest;
  for (let j = 0; j < p; j++) eta += (beta[j] as number) * (x[j] as number);
  const risk = Math.exp(eta);
  requireRepresentable(risk);
  const terms = eventTerms(sets, model.ties, work);
  const hazard = runningTotals(sets, terms, terms.hazard, 1);
  const mean = runningTotals(sets, terms, terms.hazardMean, p);
  const variance = runningTotals(sets, terms, terms.variance, 1);
  const quantile = normalQuantile((1 + level) / 2);
  const strata = model.data.strata;
  const labels: (string | number)[] = [];
  const curve: Omit<CoxCumulativeHazard, 'stratum'> = {
    time: [],
    atRisk: [],
    events: [],
    censored: [],
    cumulativeHazard: [],
    standardError: [],
    lower: [],
    upper: [],
  };
  let first = 0;
  for (const [s, last] of sets.stratumEnd.entries()) {
    const stratumStart = first === 0 ? 0 : (sets.groupEnd[first - 1] as number);
    const stratumRows = last === 0 ? 0 : (sets.groupEnd[last - 1] as number);
    let toEnter = stratumRows;
    for (let group = last - 1; group >= first; group--) {
      const time = sets.groupTime[group] as number;
      const e = terms.atGroup[group] as number;
      const start = group === 0 ? 0 : (sets.groupEnd[group - 1] as number);
      const end = sets.groupEnd[group] as number;
      if (sets.entryTime === undefined) toEnter = stratumStart;
      else while (toEnter > stratumStart && (sets.entryTime[toEnter - 1] as number) < time) toEnter--;
      const deaths = sets.groupDeaths[group] as number;
      curve.time.push(time);
      // Those that exit now or later, less those that enter now or later.
      curve.atRisk.push(end - toEnter);
      curve.events.push(deaths);
      curve.censored.push(end - start - deaths);
      if (strata !== undefined) labels.push(strata.labels[s] as string | number);
      if (e < 0) {
        curve.cumulativeHazard.push(0);
        curve.standardError.push(0);
        curve.lower.push(undefined);
        curve.upper.push(undefined);
        continue;
      }
      const value = risk * (hazard[e] as number);
      const d = Array.from(
        { length: p },
        (_, j) =>
          (sets.scale[j] as number) *
          ((x[j] as number) * (hazard[e] as number) - (mean[e * p + j] as number)),
      );
      requireRepresentable(value);
      const relativeError = Math.sqrt((variance[e] as number) + quadraticForm(model.covariance, d));
      const standardError = risk * relativeError;
      requireRepresentable(standardError);
      const factor = Math.exp((quantile * relativeError) / (hazard[e] as number));
      curve.cumulativeHazard.push(value);
      curve.standardError.push(standardError);
      curve.lower.push(value / factor);
      curve.upper.push(Number.isFinite(value * factor) ? value * factor : undefined);
    }
    first = Math.max(first, last);
  }
  return strata === undefined ? curve : { ...curve, stratum: labels };
}

/** Covariates far from the data give hazards beyond what a double holds. */
function requireRepresentable(value: number): void {
  if (value > 0 && value < Number.POSITIVE_INFINITY) return;
  throw new StatisticsError(
    'out-of-range',
    'the hazard at these covariates is beyond the range of numbers; give covariates nearer to the data, or centre them',
  );
}

function quadraticForm(matrix: readonly (readonly number[])[], d: readonly number[]): number {
  let sum = 0;
  for (const [j, row] of matrix.entries()) {
    for (const [k, value] of row.entries()) sum += value * (d[j] as number) * (d[k] as number);
  }
  return Math.max(0, sum);
}

function scaledCovariates(
  { names, centre, scale }: { names: readonly string[]; centre: Float64Array; scale: Float64Array },
  covariates: NonNullable<CoxBaselineOptions['covariates']>,
): Float64Array {
  return Float64Array.from(names, (name, j) => {
    if (covariates === 'mean') return 0;
    const value = covariates === 'zero' ? 0 : covariates[name];
    if (value === undefined || Number.isNaN(value)) {
      throw new StatisticsError('missing-value', `covariates.${name} is missing; a number is needed`);
    }
    if (!Number.isFinite(value)) {
      throw new StatisticsError('not-finite', `covariates.${name} is ${value}; a finite number is needed`);
    }
    return (value - (centre[j] as number)) / (scale[j] as number);
  });
}
