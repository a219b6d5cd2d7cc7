/** What `coxModel` is fitted to. All columns have one value a row. */
export interface CoxData {
  /** Exit time: of the event, or of censoring. */
  readonly time: ArrayLike<number>;
  /** 1 or true where the row ends in an event. */
  readonly event: ArrayLike<number | boolean>;
  /** Entry time; the row is at risk at t if entry < t <= time. Left out: at risk from the beginning. */
  readonly entry?: ArrayLike<number> | undefined;
  /** Case weights, greater than 0. Left out: 1. */
  readonly weight?: ArrayLike<number> | undefined;
  /** Rows of different strata are never in one risk set. */
  readonly strata?: ArrayLike<string | number> | undefined;
  /** Rows with the same label are dependent; asks for the robust covariance. */
  readonly cluster?: ArrayLike<string | number> | undefined;
  /** Added to the linear predictor with a coefficient fixed at 1. */
  readonly offset?: ArrayLike<number> | undefined;
  /** The covariates by name, in the order in which the terms are to be given. */
  readonly covariates: Readonly<Record<string, ArrayLike<number>>>;
}

export type CoxTies = 'efron' | 'breslow';

export interface CoxOptions {
  /** How tied events share the risk set; default `'efron'`. */
  readonly ties?: CoxTies | undefined;
  /** Confidence level of the limits; default 0.95. */
  readonly level?: number | undefined;
  /** `'firth'` adds half the log determinant of the information to the log likelihood. */
  readonly penalty?: 'none' | 'firth' | undefined;
}

/** The columns a model was fitted to, in the rows' own order, checked and copied. */
export interface CoxColumns {
  readonly time: Float64Array;
  readonly event: Uint8Array;
  readonly entry: Float64Array | undefined;
  readonly weight: Float64Array | undefined;
  readonly offset: Float64Array | undefined;
  readonly strata: CoxLabels | undefined;
  readonly cluster: CoxLabels | undefined;
  readonly covariates: Readonly<Record<string, Float64Array>>;
}

export interface CoxLabels {
  readonly codes: Int32Array;
  readonly labels: readonly (string | number)[];
}

/**
 * One covariate of a model. Where the likelihood climbs for ever along the covariate, `estimate` is
 * `'infinite'`, and where the fit stopped short of a maximum `'undetermined'`: there is then no coefficient, hazard ratio, error, limit, z or p-value.
 */
export interface CoxTerm {
  readonly name: string;
  readonly estimate: 'finite' | 'infinite' | 'undetermined';
  readonly coefficient: number | undefined;
  /** From the inverse of the observed information. */
  readonly standardError: number | undefined;
  /** Present if the data have clusters, or weights that are not whole numbers. */
  readonly robustStandardError?: number | undefined;
  readonly hazardRatio: number | undefined;
  /** Limits of the hazard ratio. */
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  readonly z: number | undefined;
  readonly pValue: number | undefined;
}

export interface CoxTest {
  readonly statistic: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
}

export interface CoxWarning {
  readonly code: 'monotone-likelihood' | 'not-converged';
  /** The covariates along which the likelihood climbs without end; empty for `'not-converged'`. */
  readonly covariates: readonly string[];
  readonly message: string;
}

export interface CoxModel {
  readonly terms: readonly CoxTerm[];
  /**
   * Of the coefficients, in the order of the terms: robust if the data have clusters or fractional
   * weights, else the inverse information. Absent where a coefficient is infinite or the fit did not converge.
   */
  readonly covariance: readonly (readonly number[])[] | undefined;
  /** The inverse information, whether or not there are robust errors. */
  readonly naiveCovariance: readonly (readonly number[])[] | undefined;
  /** Partial log likelihood with all coefficients 0, and at the estimate (penalised under `'firth'`). */
  readonly logLikelihood: { readonly initial: number; readonly final: number };
  readonly likelihoodRatioTest: CoxTest;
  /** Uses `covariance`; absent where that is, or where it is singular. */
  readonly waldTest: CoxTest | undefined;
  readonly scoreTest: CoxTest;
  readonly robustScoreTest?: CoxTest | undefined;
  readonly concordance: { readonly estimate: number | undefined; readonly standardError: number | undefined };
  readonly n: number;
  readonly events: number;
  readonly iterations: number;
  readonly converged: boolean;
  readonly warnings: readonly CoxWarning[];
  readonly ties: CoxTies;
  readonly penalty: 'none' | 'firth';
  readonly level: number;
  /** What residuals, baseline hazards and predicted curves are computed from; not for a report. */
  readonly data: CoxColumns;
}
