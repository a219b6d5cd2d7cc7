import { normalQuantile, twoSidedNormal } from '../distributions/normal.ts';

/** One coefficient of a model on the log scale, with Wald limits. */
export interface WaldTerm {
  readonly name: string;
  readonly coefficient: number;
  /** From the model. */
  readonly standardError: number;
  /** Where robust or clustered errors were asked for; limits, z and p-value then use it. */
  readonly robustStandardError?: number;
  /** Limits of the coefficient. */
  readonly coefficientLower: number;
  readonly coefficientUpper: number;
  /** Limits of the ratio, the exponential of the coefficient's. */
  readonly lower: number;
  readonly upper: number;
  readonly z: number;
  readonly pValue: number;
}

/** Wald limits and tests for coefficients with a model covariance and, if given, a robust one. */
export function waldTerms(
  names: readonly string[],
  coefficients: ArrayLike<number>,
  covariance: readonly (readonly number[])[],
  robust: readonly (readonly number[])[] | undefined,
  level: number,
): WaldTerm[] {
  const critical = normalQuantile((1 + level) / 2);
  return names.map((name, j) => {
    const coefficient = coefficients[j] as number;
    const standardError = Math.sqrt(covariance[j]?.[j] ?? 0);
    const robustStandardError = robust === undefined ? undefined : Math.sqrt(robust[j]?.[j] ?? 0);
    const error = robustStandardError ?? standardError;
    const z = coefficient / error;
    const coefficientLower = coefficient - critical * error;
    const coefficientUpper = coefficient + critical * error;
    return {
      name,
      coefficient,
      standardError,
      ...(robustStandardError === undefined ? {} : { robustStandardError }),
      coefficientLower,
      coefficientUpper,
      lower: Math.exp(coefficientLower),
      upper: Math.exp(coefficientUpper),
      z,
      pValue: twoSidedNormal(z),
    };
  });
}
