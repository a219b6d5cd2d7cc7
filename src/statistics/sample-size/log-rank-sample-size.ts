import { requirePositiveSize, requireSize } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { between, testQuantiles, type TestOptions } from './checks.ts';
import { requireOption } from '../option.ts';

export interface LogRankSampleSizeOptions extends TestOptions {
  /** Hazard ratio to be found, first group against second. */
  readonly hazardRatio: number;
  /** Share of subjects in the first group; default 0.5. */
  readonly allocation?: number | undefined;
  /** Probability that a subject has the event while under observation (see `eventProbability`); default 1. */
  readonly eventProbability?: number | undefined;
  readonly method?: 'schoenfeld' | 'freedman' | undefined;
}

export interface LogRankSampleSize {
  /** Events needed in both groups together, not rounded. */
  readonly events: number;
  /** Subjects needed in both groups together, not rounded: events over the event probability. */
  readonly n: number;
  /** Both rounded up. */
  readonly roundedUp: { readonly events: number; readonly n: number };
}

/**
 * Events, and subjects, for a log-rank test. Schoenfeld: (z_alpha + z_beta)^2 / (p (1 - p) log(hr)^2), p the share
 * in the first group. Freedman: (z_alpha + z_beta)^2 (1 + k hr)^2 / (k (1 - hr)^2), k = p/(1 - p).
 * With several feet an infant multiply n by `designEffect`.
 *
 * Sources: Schoenfeld, Biometrics 1983;39:499-503; Freedman, Stat Med 1982;1:121-129.
 *
 * @throws StatisticsError `out-of-range` (a hazard ratio of 1 or not above 0, probabilities), `unknown-option`
 *
 * @example logRankSampleSize({ hazardRatio: 0.5 }).roundedUp.events // 66
 */
export function logRankSampleSize(options: LogRankSampleSizeOptions): LogRankSampleSize {
  const { hazardRatio, allocation = 0.5, eventProbability = 1, method = 'schoenfeld' } = options;
  between('hazardRatio', hazardRatio, 0, Number.POSITIVE_INFINITY);
  between('allocation', allocation, 0, 1);
  if (hazardRatio === 1) {
    throw new StatisticsError('out-of-range', 'hazardRatio is 1; no number of events finds no effect');
  }
  if (!(eventProbability > 0 && eventProbability <= 1)) {
    throw new StatisticsError(
      'out-of-range',
      `eventProbability is ${eventProbability}; above 0, up to 1 is needed`,
    );
  }
  requireOption('method', method, ['schoenfeld', 'freedman']);
  const { alpha, beta } = testQuantiles(options);
  const square = (alpha + beta) ** 2;
  const ratio = allocation / (1 - allocation);
  const events =
    method === 'schoenfeld'
      ? square / (allocation * (1 - allocation) * Math.log(hazardRatio) ** 2)
      : (square * (1 + ratio * hazardRatio) ** 2) / (ratio * (1 - hazardRatio) ** 2);
  const n = events / eventProbability;
  return { events, n, roundedUp: { events: Math.ceil(events), n: Math.ceil(n) } };
}

export interface Accrual {
  /** Constant hazard of the event a unit of time. */
  readonly hazard: number;
  /** How long subjects are taken in, evenly. */
  readonly accrual: number;
  /** How long the last one is followed. */
  readonly followUp: number;
}

/**
 * The probability that a subject taken in at an even rate has the event by the end of the study, for exponential
 * times: 1 - (exp(-h F) - exp(-h (A + F))) / (h A), A the accrual and F the follow-up; 1 - exp(-h F) without accrual.
 *
 * Source: Schoenfeld, Biometrics 1983;39:499-503.
 *
 * @throws StatisticsError `out-of-range`
 * @example eventProbability({ hazard: 0.1, accrual: 12, followUp: 6 }) // 0.6804
 */
export function eventProbability({ hazard, accrual, followUp }: Accrual): number {
  requirePositiveSize('hazard', hazard);
  requireSize('accrual', accrual);
  requireSize('followUp', followUp);
  if (!(accrual >= 0 && followUp >= 0 && accrual + followUp > 0 && (accrual === 0 || accrual >= 1e-50))) {
    throw new StatisticsError(
      'out-of-range',
      `accrual is ${accrual} and followUp ${followUp}; finite numbers of 0 or more, not both 0, are needed`,
    );
  }
  if (accrual === 0) return -Math.expm1(-hazard * followUp);
  return 1 - (Math.exp(-hazard * followUp) * -Math.expm1(-hazard * accrual)) / (hazard * accrual);
}
