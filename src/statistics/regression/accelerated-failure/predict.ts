import { normalQuantile } from '../../distributions/normal.ts';
import { StatisticsError } from '../../errors.ts';
import { exponential } from '../ratio-terms.ts';
import type { AcceleratedFailureModel } from './accelerated-failure-model.ts';
import { ERROR_DISTRIBUTIONS } from './error-distribution.ts';

export interface FailureTimeQuantile {
  readonly probability: number;
  readonly estimate: number;
  /** Of the quantile itself, by the delta method. */
  readonly standardError: number;
  /** Limits computed on the log scale. */
  readonly lower: number;
  readonly upper: number;
}

export interface FailureSurvival {
  readonly time: number;
  readonly survival: number;
  readonly lower: number;
  readonly upper: number;
}

type CovariateValues = Readonly<Record<string, number>>;

/**
 * The times by which given shares of persons with these covariates have ended: exp(linear predictor + scale w_p),
 * w_p the error's quantile, with limits from the delta method on log time. Uses the robust covariance where the
 * model has one. The model, with its source, is that of `acceleratedFailureModel`.
 *
 * @throws StatisticsError `out-of-range` for a probability outside (0, 1), a model that did not converge, or a limit
 * beyond the largest double;
 * `missing-value` for a covariate of the model not given
 * @example acceleratedFailureQuantile(acceleratedFailureModel({ time, event, covariates: {} }, { distribution:
 *   'weibull' }), {}, [0.5])[0].estimate // 85.55
 */
export function acceleratedFailureQuantile(
  model: AcceleratedFailureModel,
  covariates: CovariateValues,
  probabilities: readonly number[],
): FailureTimeQuantile[] {
  const { linear, scale, row } = position(model, covariates);
  const critical = normalQuantile((1 + model.level) / 2);
  return probabilities.map(probability => {
    if (!(probability > 0 && probability < 1)) {
      throw new StatisticsError('out-of-range', `probability is ${probability}; between 0 and 1 is needed`);
    }
    const w = ERROR_DISTRIBUTIONS[model.distribution].quantile(probability);
    const logTime = linear + scale * w;
    const error = errorOf(model, [...row, scale * w]);
    const estimate = Math.exp(logTime);
    const upper = exponential(logTime + critical * error);
    if (upper === undefined) {
      throw new StatisticsError(
        'out-of-range',
        `the time by which ${probability} have ended is beyond the range of numbers`,
      );
    }
    return {
      probability,
      estimate,
      standardError: estimate * error,
      lower: Math.exp(logTime - critical * error),
      upper,
    };
  });
}

/**
 * The probability of not having ended by each time, for a person with these covariates; limits from the delta
 * method on the standardised log time, so that they stay within 0 and 1.
 *
 * @throws StatisticsError as `acceleratedFailureQuantile`; `out-of-range` for a negative time
 * @example acceleratedFailureSurvival(acceleratedFailureModel({ time, event, covariates: {} }, { distribution:
 *   'weibull' }), {}, [84])[0].survival // 0.52
 */
export function acceleratedFailureSurvival(
  model: AcceleratedFailureModel,
  covariates: CovariateValues,
  times: ArrayLike<number>,
): FailureSurvival[] {
  const { linear, scale, row } = position(model, covariates);
  const critical = normalQuantile((1 + model.level) / 2);
  const { survivor } = ERROR_DISTRIBUTIONS[model.distribution];
  return Array.from(times, (time, i) => {
    if (typeof time !== 'number' || !(time >= 0 && time <= 1e50)) {
      throw new StatisticsError('out-of-range', `times[${i}] is ${time}; a number from 0 to 1e50 is needed`);
    }
    if (time === 0) return { time, survival: 1, lower: 1, upper: 1 };
    const w = (Math.log(time) - linear) / scale;
    const error = errorOf(model, [...row, scale * w]) / scale;
    return {
      time,
      survival: Math.exp(survivor(w).log),
      lower: Math.exp(survivor(w + critical * error).log),
      upper: Math.exp(survivor(w - critical * error).log),
    };
  });
}

/** The linear predictor of covariate values, and the row of the design they make. */
export function position(
  model: AcceleratedFailureModel,
  covariates: CovariateValues,
): { linear: number; scale: number; row: number[] } {
  if (model.scale === undefined) {
    throw new StatisticsError('out-of-range', 'the model did not converge; it predicts nothing');
  }
  const row = model.terms.map(({ name }, j) => {
    if (j === 0) return 1;
    const value = covariates[name];
    if (value === undefined || !Number.isFinite(value)) {
      throw new StatisticsError(
        'missing-value',
        `covariates.${name} is ${String(value)}; a number is needed`,
      );
    }
    return value;
  });
  let linear = 0;
  for (const [j, term] of model.terms.entries()) linear += (term.coefficient ?? 0) * (row[j] as number);
  return { linear, scale: model.scale, row };
}

/** Standard error of gradient times parameters; a fixed scale has no column and drops out. */
function errorOf(model: AcceleratedFailureModel, gradient: readonly number[]): number {
  const covariance = model.covariance ?? [];
  let square = 0;
  for (const [a, row] of covariance.entries()) {
    for (const [b, value] of row.entries()) square += (gradient[a] ?? 0) * value * (gradient[b] ?? 0);
  }
  return Math.sqrt(Math.max(0, square));
}
