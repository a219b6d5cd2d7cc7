import { tailOutside } from '../confidence-level.ts';
import { finiteColumn, finiteColumnOf } from '../columns.ts';
import { normalQuantile, twoSidedNormal } from '../distributions/normal.ts';
import { studentTQuantile, twoSidedStudentT } from '../distributions/student-t.ts';
import { StatisticsError } from '../errors.ts';

export interface EstimatesToPool {
  /** One estimate for each completed data set, on a scale where it is about normal (log of a ratio, say). */
  readonly estimate: ArrayLike<number>;
  /** Its squared standard error. */
  readonly variance: ArrayLike<number>;
}

export interface PoolOptions {
  /** Degrees of freedom of the analysis had nothing been missing (n - k); absent for a large sample. */
  readonly completeDegreesOfFreedom?: number | undefined;
  readonly level?: number | undefined;
}

export interface PooledEstimate {
  readonly estimate: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  /** Undefined where the estimates do not differ and the complete sample is large: t is then normal. */
  readonly degreesOfFreedom: number | undefined;
  readonly t: number | undefined;
  readonly pValue: number | undefined;
  readonly withinVariance: number;
  readonly betweenVariance: number;
  readonly totalVariance: number;
  /** Relative increase of variance due to missing values, r. */
  readonly relativeIncrease: number;
  /** Share of the total variance that comes from missing values, lambda. */
  readonly missingShare: number;
  /** Fraction of information missing, corrected for the number of imputations. */
  readonly missingInformation: number;
  readonly imputations: number;
}

/**
 * Pools one estimate from m completed data sets by Rubin's rules: the mean; total variance = mean variance U +
 * (1 + 1/m) times the variance B between estimates; t with the degrees of freedom of Barnard and Rubin.
 *
 * With lambda = (1 + 1/m) B / T: nu_old = (m - 1)/lambda^2; nu_obs = (nu + 1)/(nu + 3) nu (1 - lambda) for complete
 * degrees of freedom nu; the degrees of freedom are 1/(1/nu_old + 1/nu_obs), and nu_old for a large sample.
 *
 * Sources: Rubin, Multiple Imputation for Nonresponse in Surveys, section 3.3; Barnard & Rubin, Biometrika
 * 1999;86:948-955.
 *
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`; `out-of-range` for fewer than two
 * estimates, a variance not above 0, degrees of freedom not above 0, or the level
 *
 * @example poolEstimates({ estimate: [1.1, 0.9], variance: [0.04, 0.04] }).standardError // 0.2646
 */
export function poolEstimates(data: EstimatesToPool, options: PoolOptions = {}): PooledEstimate {
  const { completeDegreesOfFreedom, level = 0.95 } = options;
  tailOutside({ level });
  requireComplete(completeDegreesOfFreedom);
  const estimates = finiteColumn('estimate', data.estimate);
  const m = estimates.length;
  if (m < 2)
    throw new StatisticsError('out-of-range', `${m} estimate cannot be pooled; at least two are needed`);
  const variances = finiteColumnOf('variance', data.variance, m);
  for (const [i, value] of variances.entries()) {
    if (!(value > 0)) {
      throw new StatisticsError('out-of-range', `variance[${i}] is ${value}; a number above 0 is needed`);
    }
  }
  const estimate = mean(estimates);
  const within = mean(variances);
  const between = estimates.reduce((sum, value) => sum + (value - estimate) ** 2, 0) / (m - 1);
  const added = (1 + 1 / m) * between;
  const total = within + added;
  const relativeIncrease = added / within;
  const missingShare = added / total;
  const degreesOfFreedom = barnardRubin(m, missingShare, completeDegreesOfFreedom);
  const standardError = Math.sqrt(total);
  const t = estimate / standardError;
  const p = (1 + level) / 2;
  const critical = degreesOfFreedom === undefined ? normalQuantile(p) : studentTQuantile(p, degreesOfFreedom);
  const correction = degreesOfFreedom === undefined ? 0 : 2 / (degreesOfFreedom + 3);
  return {
    estimate,
    standardError,
    lower: estimate - critical * standardError,
    upper: estimate + critical * standardError,
    degreesOfFreedom,
    t,
    pValue: degreesOfFreedom === undefined ? twoSidedNormal(t) : twoSidedStudentT(t, degreesOfFreedom),
    withinVariance: within,
    betweenVariance: between,
    totalVariance: total,
    relativeIncrease,
    missingShare,
    missingInformation: (relativeIncrease + correction) / (relativeIncrease + 1),
    imputations: m,
  };
}

/** Barnard and Rubin's degrees of freedom; undefined where infinite. */
export function barnardRubin(m: number, missingShare: number, complete?: number): number | undefined {
  const old = missingShare > 0 ? (m - 1) / missingShare ** 2 : undefined;
  if (complete === undefined) return old;
  const observed = ((complete + 1) / (complete + 3)) * complete * (1 - missingShare);
  return old === undefined ? observed : (old * observed) / (old + observed);
}

function requireComplete(value: number | undefined): void {
  if (value !== undefined && !(value > 0 && Number.isFinite(value))) {
    throw new StatisticsError(
      'out-of-range',
      `completeDegreesOfFreedom is ${value}; a finite number above 0 is needed, or leave it out`,
    );
  }
}

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
