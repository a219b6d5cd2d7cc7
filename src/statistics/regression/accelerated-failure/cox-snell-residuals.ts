import type { AcceleratedFailureModel, AcceleratedFailureData } from './accelerated-failure-model.ts';
import { censoredTimes } from './censored-times.ts';
import { ERROR_DISTRIBUTIONS } from './error-distribution.ts';
import { position } from './predict.ts';

/** A row's cumulative hazard under the model at the ends of what is known of its time. */
export interface CoxSnellResidual {
  /** At the exact time, or at the lower bound (0 for left-censored). */
  readonly lower: number;
  /** At the exact time, or at the upper bound; undefined for right-censored. */
  readonly upper: number | undefined;
}

/**
 * Cox-Snell residuals, minus log survival at each row's time. If the model holds they are a (censored) sample of
 * the unit exponential: their Nelson-Aalen or Turnbull estimate, drawn against them, lies on the diagonal.
 *
 * Source: Cox & Snell, J R Stat Soc B 1968;30:248-275.
 *
 * @throws StatisticsError as `acceleratedFailureModel` for data it refuses, and `out-of-range` for a model that did
 * not converge
 * @example coxSnellResiduals(acceleratedFailureModel({ time, event, covariates: {} }, { distribution:
 *   'exponential' }), { time, event, covariates: {} }).length // 8
 */
export function coxSnellResiduals(
  model: AcceleratedFailureModel,
  data: AcceleratedFailureData,
): CoxSnellResidual[] {
  const times = censoredTimes(data);
  const { survivor } = ERROR_DISTRIBUTIONS[model.distribution];
  return times.kinds.map((kind, i) => {
    const values = Object.fromEntries(
      Object.entries(data.covariates).map(([name, column]) => [name, column[i] as number]),
    );
    const { linear, scale } = position(model, values);
    const hazard = (logTime: number): number => -survivor((logTime - linear) / scale).log;
    const lower = kind === 'left' ? 0 : hazard(times.logLower[i] as number);
    if (kind === 'right') return { lower, upper: undefined };
    return { lower, upper: kind === 'exact' ? lower : hazard(times.logUpper[i] as number) };
  });
}
