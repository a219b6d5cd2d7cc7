import { normalQuantile } from '../distributions/normal.ts';
import { confidenceLevel } from '../confidence-level.ts';
import {
  type ProbabilityInterval,
  probabilityIntervals,
  probabilityLimits,
} from '../probability-interval.ts';
import { rememberSource, type SurvivalCurve, type SurvivalVariance } from './curve.ts';
import {
  checkedFollowUp,
  type FollowUp,
  type FollowUpData,
  hasFractionalWeights,
  isOneCluster,
} from './follow-up.ts';
import { sumOfSquaredInfluence } from './influence.ts';
import { type RiskSets, riskSets } from './risk-sets.ts';
import { oneOf } from '../option.ts';

export interface KaplanMeierOptions {
  /** Confidence level of the pointwise limits; 0.95 unless told. */
  readonly level?: number | undefined;
  /** Scale of the limits; log-log unless told. */
  readonly interval?: ProbabilityInterval | undefined;
  /**
   * Greenwood unless told, but the infinitesimal jackknife if `cluster` is given or a weight is not a whole
   * number.
   */
  readonly variance?: SurvivalVariance | undefined;
}

/**
 * Kaplan-Meier estimate of survival: the product over event times of (at risk - events) / at risk.
 *
 * - A row is at risk at t if entry < t <= time; so a row censored at t is still at risk of an event at t.
 * - Whole-number weights count as repeated rows. `atRisk`, `events`, `censored` are sums of weights.
 * - Standard error of the survival: Greenwood, S times the root of the sum of events / (at risk (at risk -
 *   events)); undefined where S is 0. With clusters or fractional weights the infinitesimal jackknife: the
 *   root of the sum over clusters of the squared derivative of S with respect to the cluster's weight; it is
 *   0 where S is 0. Rows that are all of one cluster have no standard error and no limits.
 * - Events at time 0 are allowed: the curve then starts below 1.
 * - Times are equal only if they are the same number; near-equal times are not merged.
 * - Limits are undefined where the scale has none (see `probabilityLimits`).
 *
 * Takes n log n time at most, and linear time for whole numbers.
 *
 * @throws StatisticsError for empty input, unequal lengths, missing or infinite values, negative times or
 *   weights, an entry that is not before the exit, a level outside 0 to 1, an unknown option
 * @example kaplanMeier({ time: [6, 7, 6], event: [1, 0, 0] }).survival // [0.6667, 0.6667]
 *
 * Source: Kaplan and Meier, J Am Stat Assoc 1958;53:457-481. Greenwood, Rep Public Health Med Subj 1926;33.
 * Infinitesimal jackknife: Efron, Biometrika 1981;68:589-599; dependent rows: Ying and Wei, J Multivar Anal
 * 1994;50:17-29.
 */
export function kaplanMeier(data: FollowUpData, options: KaplanMeierOptions = {}): SurvivalCurve {
  return kaplanMeierCurve(checkedFollowUp(data), options);
}

/** As `kaplanMeier`, on rows already checked. */
export function kaplanMeierCurve(rows: FollowUp, options: KaplanMeierOptions): SurvivalCurve {
  const robust = rows.cluster !== undefined || hasFractionalWeights(rows.weight);
  const settings = curveSettings(options, robust ? 'infinitesimal-jackknife' : 'greenwood');
  const sets = riskSets(rows);
  if (settings.variance === 'greenwood') {
    const curve = greenwoodCurve(sets, rows.time.length, settings);
    if (rows.entry) rememberSource(curve, { rows, sets });
    return curve;
  }
  const survival = survivalProduct(sets);
  const curve = withLimits(sets, survival, jackknifeErrors(rows, sets, survival), rows.time.length, settings);
  rememberSource(curve, { rows, sets });
  return curve;
}

export interface CurveSettings {
  readonly level: number;
  readonly interval: ProbabilityInterval;
  readonly variance: SurvivalVariance;
}

/** The options checked, `variance` being `otherwise` unless told. */
export function curveSettings(options: KaplanMeierOptions, otherwise: SurvivalVariance): CurveSettings {
  return {
    level: confidenceLevel(options.level),
    interval: oneOf('interval', options.interval, probabilityIntervals, 'log-log'),
    variance: oneOf('variance', options.variance, ['greenwood', 'infinitesimal-jackknife'], otherwise),
  };
}

/** The curve of n rows counted in risk sets, with Greenwood's variance. */
export function greenwoodCurve(sets: RiskSets, n: number, settings: CurveSettings): SurvivalCurve {
  const survival = survivalProduct(sets);
  return withLimits(sets, survival, greenwoodErrors(sets, survival), n, settings);
}

function withLimits(
  sets: RiskSets,
  survival: Float64Array,
  standardError: readonly (number | undefined)[],
  n: number,
  settings: CurveSettings,
): SurvivalCurve {
  const z = normalQuantile((1 + settings.level) / 2);
  const lower: (number | undefined)[] = [];
  const upper: (number | undefined)[] = [];
  for (let k = 0; k < survival.length; k++) {
    const limits = probabilityLimits(survival[k] as number, standardError[k], z, settings.interval);
    lower.push(limits.lower);
    upper.push(limits.upper);
  }
  return {
    time: Array.from(sets.times),
    atRisk: Array.from(sets.atRisk),
    events: Array.from(sets.events),
    censored: Array.from(sets.censored),
    survival: Array.from(survival),
    standardError,
    lower,
    upper,
    n,
    ...settings,
  };
}

export function survivalProduct(sets: RiskSets): Float64Array {
  const survival = new Float64Array(sets.times.length);
  let s = 1;
  for (let k = 0; k < survival.length; k++) {
    const atRisk = sets.atRisk[k] as number;
    const events = sets.events[k] as number;
    if (events > 0) s *= (atRisk - events) / atRisk;
    survival[k] = s;
  }
  return survival;
}

/**
 * Cumulative sums of events / (at risk (at risk - events)); a time at which all at risk fail adds nothing.
 */
export function greenwoodSums(sets: RiskSets): Float64Array {
  const sums = new Float64Array(sets.times.length);
  let sum = 0;
  for (let k = 0; k < sums.length; k++) {
    const atRisk = sets.atRisk[k] as number;
    const events = sets.events[k] as number;
    if (events > 0 && events < atRisk) sum += events / (atRisk * (atRisk - events));
    sums[k] = sum;
  }
  return sums;
}

function greenwoodErrors(sets: RiskSets, survival: Float64Array): (number | undefined)[] {
  const sums = greenwoodSums(sets);
  return Array.from(survival, (s, k) => (s > 0 ? s * Math.sqrt(sums[k] as number) : undefined));
}

function jackknifeErrors(rows: FollowUp, sets: RiskSets, survival: Float64Array): (number | undefined)[] {
  if (isOneCluster(rows)) return Array.from(survival, () => undefined);
  const squares = sumOfSquaredInfluence(rows, sets, eventJumps(sets), greenwoodSums(sets));
  return Array.from(survival, (s, k) => (s > 0 ? s * Math.sqrt(squares[k] as number) : 0));
}

/** What an event adds to the influence on minus log S: 1 / (at risk - events). */
export function eventJumps(sets: RiskSets): Float64Array {
  return Float64Array.from(sets.atRisk, (atRisk, k) => {
    const remaining = atRisk - (sets.events[k] as number);
    return remaining > 0 ? 1 / remaining : 0;
  });
}
