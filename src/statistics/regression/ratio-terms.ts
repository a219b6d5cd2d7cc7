import { normalQuantile, twoSidedNormal } from '../distributions/normal.ts';

/**
 * One coefficient of a model on the log scale, with Wald limits. Where the likelihood climbs for ever along the term
 * `estimate` is `'infinite'`, and where the fit stopped short of a maximum `'undetermined'`: there is then no
 * coefficient, error, limit, z or p-value.
 */
export interface WaldTerm {
  readonly name: string;
  readonly estimate: 'finite' | 'infinite' | 'undetermined';
  readonly coefficient: number | undefined;
  /** From the model. */
  readonly standardError: number | undefined;
  /** Where robust or clustered errors were asked for; limits, z and p-value then use it. */
  readonly robustStandardError?: number | undefined;
  /** Limits of the coefficient. */
  readonly coefficientLower: number | undefined;
  readonly coefficientUpper: number | undefined;
  /** Limits of the ratio, the exponential of the coefficient's; undefined beyond the largest double. */
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  readonly z: number | undefined;
  readonly pValue: number | undefined;
}

/** Why a model has no estimates. */
export interface ModelWarning {
  readonly code: 'separation' | 'not-converged';
  /** The terms along which the likelihood climbs without end; empty for `'not-converged'`. */
  readonly covariates: readonly string[];
  readonly message: string;
}

/** Wald limits and tests for coefficients with a model covariance and, if given, a robust one. */
export function waldTerms(
  names: readonly string[],
  coefficients: ArrayLike<number>,
  naive: readonly (readonly number[])[],
  robust: readonly (readonly number[])[] | undefined,
  level: number,
): WaldTerm[] {
  const critical = normalQuantile((1 + level) / 2);
  return names.map((name, j) => {
    const coefficient = coefficients[j] as number;
    const standardError = Math.sqrt(naive[j]?.[j] ?? 0);
    const robustStandardError = robust === undefined ? undefined : Math.sqrt(robust[j]?.[j] ?? 0);
    const error = robustStandardError ?? standardError;
    const usable = error > 0;
    const z = usable ? coefficient / error : undefined;
    const coefficientLower = usable ? coefficient - critical * error : undefined;
    const coefficientUpper = usable ? coefficient + critical * error : undefined;
    return {
      name,
      estimate: 'finite',
      coefficient,
      standardError,
      ...(robustStandardError === undefined ? {} : { robustStandardError }),
      coefficientLower,
      coefficientUpper,
      lower: exponential(coefficientLower),
      upper: exponential(coefficientUpper),
      z,
      pValue: z === undefined ? undefined : twoSidedNormal(z),
    };
  });
}

/** The terms of a fit without a maximum: those named are infinite, the others undetermined. */
export function unestimatedTerms(names: readonly string[], infinite: readonly string[]): WaldTerm[] {
  return names.map(name => ({
    name,
    estimate: infinite.includes(name) ? 'infinite' : 'undetermined',
    coefficient: undefined,
    standardError: undefined,
    coefficientLower: undefined,
    coefficientUpper: undefined,
    lower: undefined,
    upper: undefined,
    z: undefined,
    pValue: undefined,
  }));
}

/** e to a number, undefined where there is none or where it is beyond the largest double (about 1.8e308). */
export function exponential(value: number | undefined): number | undefined {
  if (value === undefined) return undefined;
  const power = Math.exp(value);
  return power === Number.POSITIVE_INFINITY ? undefined : power;
}
