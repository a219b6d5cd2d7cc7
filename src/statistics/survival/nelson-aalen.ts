import { normalQuantile } from '../distributions/normal.ts';
import { confidenceLevel } from '../confidence-level.ts';
import { checkedFollowUp, type FollowUpData, hasFractionalWeights, isOneCluster } from './follow-up.ts';
import { sumOfSquaredInfluence } from './influence.ts';
import { type RiskSets, riskSets } from './risk-sets.ts';
import { oneOf } from '../option.ts';

export type HazardVariance = 'poisson' | 'binomial' | 'infinitesimal-jackknife';

export interface NelsonAalenOptions {
  /** Confidence level of the pointwise limits; 0.95 unless told. */
  readonly level?: number | undefined;
  /**
   * Poisson unless told, but the infinitesimal jackknife if `cluster` is given or a weight is not a whole
   * number.
   */
  readonly variance?: HazardVariance | undefined;
  /**
   * Limits symmetric on the log scale (unless told) or on the plain scale, where the lower one may fall below
   * 0.
   */
  readonly interval?: 'log' | 'plain' | undefined;
}

/** A cumulative hazard: one entry for each distinct observed time, in ascending order. */
export interface CumulativeHazard {
  readonly time: readonly number[];
  readonly atRisk: readonly number[];
  readonly events: readonly number[];
  readonly cumulativeHazard: readonly number[];
  /** Undefined where all rows are of one cluster. */
  readonly standardError: readonly (number | undefined)[];
  readonly lower: readonly (number | undefined)[];
  readonly upper: readonly (number | undefined)[];
  readonly n: number;
  readonly level: number;
  readonly variance: HazardVariance;
}

/**
 * Nelson-Aalen estimate of the cumulative hazard: the sum over event times of events / at risk.
 *
 * - Variance `poisson`: the sum of events / at risk squared; `binomial`, for tied whole-day times: the sum of
 *   events (at risk - events) / at risk cubed; infinitesimal jackknife: the sum over clusters of the squared
 *   influence.
 * - Tied events are not split up. At risk at t: entry < t <= time.
 * - Log limits H exp(-/+ z s / H) are undefined while H is 0.
 *
 * @throws StatisticsError as `kaplanMeier`
 * @example nelsonAalen({ time: [6, 7, 6], event: [1, 0, 0] }).cumulativeHazard // [0.3333, 0.3333]
 *
 * Source: Aalen, Ann Stat 1978;6:701-726. Klein, Scand J Stat 1991;18:333-340 compares the variances.
 */
export function nelsonAalen(data: FollowUpData, options: NelsonAalenOptions = {}): CumulativeHazard {
  const rows = checkedFollowUp(data);
  const level = confidenceLevel(options.level);
  const interval = oneOf('interval', options.interval, ['log', 'plain'], 'log');
  const robust = rows.cluster !== undefined || hasFractionalWeights(rows.weight);
  const variance = oneOf(
    'variance',
    options.variance,
    ['poisson', 'binomial', 'infinitesimal-jackknife'],
    robust ? 'infinitesimal-jackknife' : 'poisson',
  );
  const sets = riskSets(rows);
  const hazard = cumulated(sets, (events, atRisk) => events / atRisk);
  const variances =
    variance === 'infinitesimal-jackknife'
      ? sumOfSquaredInfluence(
          rows,
          sets,
          sets.atRisk.map(atRisk => (atRisk > 0 ? 1 / atRisk : 0)),
          cumulated(sets, (events, atRisk) => events / atRisk ** 2),
        )
      : cumulated(sets, variance === 'poisson' ? poissonTerm : binomialTerm);
  const unknown = variance === 'infinitesimal-jackknife' && isOneCluster(rows);
  const standardError = Array.from(variances, value => (unknown ? undefined : Math.sqrt(value)));
  const z = normalQuantile((1 + level) / 2);
  const limit = (side: number) =>
    Array.from(hazard, (h, k) => hazardLimit(h, standardError[k], side * z, interval));
  return {
    time: Array.from(sets.times),
    atRisk: Array.from(sets.atRisk),
    events: Array.from(sets.events),
    cumulativeHazard: Array.from(hazard),
    standardError,
    lower: limit(-1),
    upper: limit(1),
    n: rows.time.length,
    level,
    variance,
  };
}

function poissonTerm(events: number, atRisk: number): number {
  return events / atRisk ** 2;
}

function binomialTerm(events: number, atRisk: number): number {
  return (events * (atRisk - events)) / atRisk ** 3;
}

function hazardLimit(
  hazard: number,
  standardError: number | undefined,
  z: number,
  interval: 'log' | 'plain',
): number | undefined {
  if (standardError === undefined) return undefined;
  const distance = z * standardError;
  if (interval === 'plain') return hazard + distance;
  return hazard > 0 ? hazard * Math.exp(distance / hazard) : undefined;
}

function cumulated(sets: RiskSets, term: (events: number, atRisk: number) => number): Float64Array {
  const sums = new Float64Array(sets.times.length);
  let sum = 0;
  for (let k = 0; k < sums.length; k++) {
    const events = sets.events[k] as number;
    if (events > 0) sum += term(events, sets.atRisk[k] as number);
    sums[k] = sum;
  }
  return sums;
}
