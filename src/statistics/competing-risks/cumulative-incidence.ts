import { normalQuantile } from '../distributions/normal.ts';
import { StatisticsError } from '../errors.ts';
import { confidenceLevel } from '../confidence-level.ts';
import {
  type ProbabilityInterval,
  probabilityIntervals,
  probabilityLimits,
} from '../probability-interval.ts';
import { hasFractionalWeights, isOneCluster } from '../survival/follow-up.ts';
import { survivalProduct } from '../survival/kaplan-meier.ts';
import { type RiskSets, riskSets } from '../survival/risk-sets.ts';
import {
  type CompetingFollowUp,
  type CompetingFollowUpData,
  checkedCompetingFollowUp,
} from './competing-follow-up.ts';
import { incidenceDeltaMethod } from './incidence-delta-method.ts';
import { incidenceJackknife } from './incidence-jackknife.ts';
import { incidenceSteps } from './incidence-steps.ts';
import { oneOf } from '../option.ts';

export type IncidenceVariance = 'infinitesimal-jackknife' | 'delta-method';

export interface CumulativeIncidenceOptions {
  /** Confidence level of the pointwise limits; 0.95 unless told. */
  readonly level?: number | undefined;
  /** Scale of the limits, for the incidence itself; log-log unless told. */
  readonly interval?: ProbabilityInterval | undefined;
  /**
   * The infinitesimal jackknife unless told; the delta method is for independent rows without fractional
   * weights.
   */
  readonly variance?: IncidenceVariance | undefined;
  /** The causes in the order wanted, also those that do not occur; ascending unless told. */
  readonly causes?: readonly (string | number)[] | undefined;
}

/**
 * Incidence of one cause: one entry for each distinct observed time, in ascending order, the same for all
 * causes.
 */
export interface IncidenceCurve {
  readonly cause: string | number;
  readonly time: readonly number[];
  readonly atRisk: readonly number[];
  /** Events of this cause. */
  readonly events: readonly number[];
  readonly incidence: readonly number[];
  /** Undefined where all rows are of one cluster. */
  readonly standardError: readonly (number | undefined)[];
  readonly lower: readonly (number | undefined)[];
  readonly upper: readonly (number | undefined)[];
}

export interface CumulativeIncidence {
  readonly causes: readonly IncidenceCurve[];
  /** Share with no event yet, at the same times: 1 minus all incidences. */
  readonly eventFree: readonly number[];
  readonly n: number;
  readonly level: number;
  readonly interval: ProbabilityInterval;
  readonly variance: IncidenceVariance;
}

/**
 * Aalen-Johansen estimate of the cumulative incidence of each cause: the sum over its event times of the
 * event-free survival just before (Kaplan-Meier for all causes together) times events of the cause / at risk.
 *
 * - Cause 0 is censoring. At risk at t: entry < t <= time.
 * - `standardError` is that of the incidence. Two variances are in use and differ slightly: the infinitesimal
 *   jackknife (default), the root of the sum over clusters (rows, if there are none) of the squared
 *   derivative with respect to the cluster's weight; and `delta-method`, the counting-process variance with a
 *   factor for ties. `variance` in the result names the one given.
 * - Limits are made for the incidence itself (log-log: log(-log F)), undefined while it is 0.
 *
 * Linear in rows but for the sort.
 *
 * @throws StatisticsError `no-events` if no cause occurs and none is named; `unknown-option` for the delta
 *   method with clusters or fractional weights; and as `kaplanMeier`
 * @example cumulativeIncidence({ time: [1, 2, 3], cause: [1, 2, 0] }).causes[0].incidence // [0.3333, 0.3333, 0.3333]
 *
 * Source: Aalen and Johansen, Scand J Stat 1978;5:141-150. Variances: see `incidenceJackknife` and
 * `incidenceDeltaMethod`.
 */
export function cumulativeIncidence(
  data: CompetingFollowUpData,
  options: CumulativeIncidenceOptions = {},
): CumulativeIncidence {
  return incidenceOfRows(checkedCompetingFollowUp(data, options.causes), options);
}

/** As `cumulativeIncidence`, on rows already checked. */
export function incidenceOfRows(
  data: CompetingFollowUp,
  options: CumulativeIncidenceOptions,
): CumulativeIncidence {
  const level = confidenceLevel(options.level);
  const interval = oneOf('interval', options.interval, probabilityIntervals, 'log-log');
  const variance = oneOf(
    'variance',
    options.variance,
    ['infinitesimal-jackknife', 'delta-method'],
    'infinitesimal-jackknife',
  );
  if (variance === 'delta-method' && (data.rows.cluster || hasFractionalWeights(data.rows.weight))) {
    throw new StatisticsError(
      'unknown-option',
      'variance is delta-method; with clusters or fractional weights infinitesimal-jackknife is needed',
    );
  }
  const unknown = isOneCluster(data.rows);
  const sets = riskSets(data.rows);
  const eventFree = survivalProduct(sets);
  const z = normalQuantile((1 + level) / 2);
  const time = Array.from(sets.times);
  const atRisk = Array.from(sets.atRisk);
  const causes = data.labels.map((cause, j): IncidenceCurve => {
    const steps = incidenceSteps(sets, eventFree, eventsOfCause(data, sets, j + 1));
    const variances =
      variance === 'delta-method'
        ? incidenceDeltaMethod(sets, steps)
        : incidenceJackknife(data, sets, steps, j + 1);
    // Before the first event of the cause the difference of sums would leave a rounding error of 1e-10.
    const standardError = Array.from(variances, (value, k) => {
      if (unknown) return undefined;
      return (steps.incidence[k] as number) > 0 ? Math.sqrt(value) : 0;
    });
    const limits = Array.from(steps.incidence, (p, k) => probabilityLimits(p, standardError[k], z, interval));
    return {
      cause,
      time,
      atRisk,
      events: Array.from(steps.events),
      incidence: Array.from(steps.incidence),
      standardError,
      lower: limits.map(l => l.lower),
      upper: limits.map(l => l.upper),
    };
  });
  return { causes, eventFree: Array.from(eventFree), n: data.cause.length, level, interval, variance };
}

function eventsOfCause({ rows, cause }: CompetingFollowUp, sets: RiskSets, code: number): Float64Array {
  const events = new Float64Array(sets.times.length);
  for (let i = 0; i < cause.length; i++) {
    if (cause[i] !== code) continue;
    const k = sets.place[i] as number;
    events[k] = (events[k] as number) + (rows.weight ? (rows.weight[i] as number) : 1);
  }
  return events;
}
