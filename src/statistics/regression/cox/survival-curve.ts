import { confidenceLevel } from '../../confidence-level.ts';
import { normalQuantile } from '../../distributions/normal.ts';
import { StatisticsError } from '../../errors.ts';
import { atRiskCounter } from './at-risk.ts';
import { coxBaselineHazard } from './baseline-hazard.ts';
import type { CoxModel } from './types.ts';
import { requireOption } from '../../option.ts';

export type CoxSurvivalInterval = 'log-log' | 'log' | 'plain';

export interface CoxSurvivalOptions {
  readonly level?: number | undefined;
  /** On which scale the limits are symmetric; default `'log-log'`. */
  readonly interval?: CoxSurvivalInterval | undefined;
  /** Gives the curve at these times only, in each stratum; default every distinct exit time. */
  readonly times?: ArrayLike<number> | undefined;
}

/** Rows at ascending times; the strata one after another, in ascending order of their labels. */
export interface CoxSurvivalCurve {
  readonly time: number[];
  /** The stratum of each row; present if the model has strata. */
  readonly stratum?: (string | number)[];
  /** Rows of the stratum at risk just before the time, whatever their covariates. */
  readonly atRisk: number[];
  /** Absent at asked times after the last exit time of the stratum. */
  readonly survival: (number | undefined)[];
  readonly cumulativeHazard: (number | undefined)[];
  /** Of survival. */
  readonly standardError: (number | undefined)[];
  /** Pointwise limits; absent where survival is 1 (but for `'plain'` and `'log'`) or not known. */
  readonly lower: (number | undefined)[];
  readonly upper: (number | undefined)[];
}

/**
 * Predicted survival of a row with the given covariates: exp(-cumulative hazard), in each stratum, with
 * pointwise limits that carry the uncertainty of the coefficients (see `coxBaselineHazard`).
 *
 * Limits: `log-log` are those of the logarithm of the cumulative hazard, `log` of the cumulative hazard,
 * `plain` of survival; the last two are cut off at 0 and 1.
 *
 * Source: Tsiatis (1981), Ann Stat 9:93; Link (1984), Biometrics 40:601.
 *
 * @throws StatisticsError as `coxBaselineHazard`, and `missing-value` or `not-finite` for times
 * @example coxSurvival(model, { severe: 1 }).survival // [0.9242, 0.8403, 0.7333, 0.6044, 0.6044, 0.4409, 0.4409]
 */
export function coxSurvival(
  model: CoxModel,
  covariates: Readonly<Record<string, number>>,
  options: CoxSurvivalOptions = {},
): CoxSurvivalCurve {
  const level = options.level ?? model.level;
  const interval = options.interval ?? 'log-log';
  confidenceLevel(level);
  requireOption('interval', interval, ['log-log', 'log', 'plain']);
  const hazard = coxBaselineHazard(model, { covariates, level });
  const quantile = normalQuantile((1 + level) / 2);
  const curve: Omit<CoxSurvivalCurve, 'stratum'> = {
    time: [],
    atRisk: [],
    survival: [],
    cumulativeHazard: [],
    standardError: [],
    lower: [],
    upper: [],
  };
  const labels: (string | number)[] = [];
  const push = (time: number, atRisk: number, value: number | undefined, error: number | undefined): void => {
    curve.time.push(time);
    curve.atRisk.push(atRisk);
    curve.cumulativeHazard.push(value);
    const known = value !== undefined && error !== undefined;
    curve.survival.push(known ? Math.exp(-value) : undefined);
    curve.standardError.push(known ? Math.exp(-value) * error : undefined);
    const [lower, upper] = known ? limits(value, error, quantile, interval) : [undefined, undefined];
    curve.lower.push(lower);
    curve.upper.push(upper);
  };
  const { stratum } = hazard;
  const countAtRisk = atRiskCounter(model.data);
  let place = -1;
  const rows = hazard.time.length;
  for (let first = 0, end = 0; first < rows; first = end) {
    end = first;
    place++;
    while (end < rows && stratum?.[end] === stratum?.[first]) end++;
    if (options.times === undefined) {
      for (let i = first; i < end; i++) {
        push(
          hazard.time[i] as number,
          hazard.atRisk[i] as number,
          hazard.cumulativeHazard[i],
          hazard.standardError[i],
        );
      }
    } else {
      for (const t of Array.from(options.times, requireTime)) {
        const next = firstAtOrAfter(hazard.time, t, first, end);
        const last = hazard.time[next] === t && next < end ? next : next - 1;
        const atRisk = countAtRisk(place, t);
        if (t > (hazard.time[end - 1] as number)) push(t, 0, undefined, undefined);
        else if (last < first) push(t, atRisk, 0, 0);
        else push(t, atRisk, hazard.cumulativeHazard[last], hazard.standardError[last]);
      }
    }
    const label = stratum?.[first];
    if (label !== undefined) for (let i = labels.length; i < curve.time.length; i++) labels.push(label);
  }
  return stratum === undefined ? curve : { ...curve, stratum: labels };
}

function limits(
  hazard: number,
  error: number,
  quantile: number,
  interval: CoxSurvivalInterval,
): [number | undefined, number | undefined] {
  if (interval === 'plain') {
    const survival = Math.exp(-hazard);
    const width = quantile * survival * error;
    return [Math.max(0, survival - width), Math.min(1, survival + width)];
  }
  if (interval === 'log') {
    return [Math.exp(-hazard - quantile * error), Math.min(1, Math.exp(-hazard + quantile * error))];
  }
  if (!(hazard > 0)) return [undefined, undefined];
  const factor = Math.exp((quantile * error) / hazard);
  return [Math.exp(-hazard * factor), Math.exp(-hazard / factor)];
}

function requireTime(value: number, position: number): number {
  if (Number.isFinite(value)) return value;
  throw new StatisticsError(
    value === undefined || Number.isNaN(value) ? 'missing-value' : 'not-finite',
    `times[${position}] is ${String(value)}; a finite number is needed`,
  );
}

function firstAtOrAfter(times: readonly number[], t: number, from: number, to: number): number {
  let low = from;
  let high = to;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] as number) < t) low = middle + 1;
    else high = middle;
  }
  return low;
}
