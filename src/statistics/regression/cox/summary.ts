import { chiSquareUpperTail } from '../../distributions/chi-square.ts';
import { normalQuantile, twoSidedNormal } from '../../distributions/normal.ts';
import { inverseQuadraticForm } from '../../linear-algebra/cholesky.ts';
import { exponential } from '../ratio-terms.ts';
import type { Maximum } from './newton.ts';
import type { RiskSets } from './risk-sets.ts';
import type { CoxTerm, CoxTest, CoxWarning } from './types.ts';

/** One row a covariate, in the covariates' own units; the robust error, if any, gives z and limits. */
export function terms(
  sets: Pick<RiskSets, 'names' | 'scale'>,
  beta: Float64Array,
  naive: Float64Array | undefined,
  robust: Float64Array | undefined,
  infinite: ReadonlySet<number>,
  level: number,
): CoxTerm[] {
  const p = sets.names.length;
  const quantile = normalQuantile((1 + level) / 2);
  return sets.names.map((name, j) => {
    const at = j * p + j;
    const scale = sets.scale[j] as number;
    const variance = naive?.[at];
    if (infinite.has(j) || variance === undefined || !(variance > 0))
      return withoutEstimate(name, infinite.has(j));
    const coefficient = (beta[j] as number) / scale;
    const standardError = Math.sqrt(variance) / scale;
    const robustStandardError = robust === undefined ? undefined : Math.sqrt(robust[at] as number) / scale;
    const error = robustStandardError ?? standardError;
    // A robust error that is only rounding (clusters that cancel) is no error to divide by.
    const usable = error > 1e-8 * standardError;
    const z = usable ? coefficient / error : undefined;
    return {
      name,
      estimate: 'finite',
      coefficient,
      standardError,
      ...(robustStandardError === undefined ? {} : { robustStandardError }),
      hazardRatio: exponential(coefficient),
      lower: usable ? exponential(coefficient - quantile * error) : undefined,
      upper: usable ? exponential(coefficient + quantile * error) : undefined,
      z,
      pValue: z === undefined ? undefined : twoSidedNormal(z),
    };
  });
}

function withoutEstimate(name: string, infinite: boolean): CoxTerm {
  return {
    name,
    estimate: infinite ? 'infinite' : 'undetermined',
    coefficient: undefined,
    standardError: undefined,
    hazardRatio: undefined,
    lower: undefined,
    upper: undefined,
    z: undefined,
    pValue: undefined,
  };
}

export function chiSquareTest(statistic: number, degreesOfFreedom: number): CoxTest {
  return { statistic, degreesOfFreedom, pValue: chiSquareUpperTail(statistic, degreesOfFreedom) };
}

/** beta' V^-1 beta; absent where V is singular (as with no more clusters than covariates). */
export function waldTest(beta: Float64Array, covariance: Float64Array): CoxTest | undefined {
  const statistic = inverseQuadraticForm(covariance, beta);
  return statistic === undefined ? undefined : chiSquareTest(statistic, beta.length);
}

export function fitWarnings(names: readonly string[], fit: Maximum): CoxWarning[] {
  if (fit.converged) return [];
  if (fit.monotone.length === 0) {
    return [
      {
        code: 'not-converged',
        covariates: [],
        message: `the maximum was not reached in ${fit.iterations} iterations; the coefficients are not estimates`,
      },
    ];
  }
  const covariates = fit.monotone.map(j => names[j] as string);
  return [
    {
      code: 'monotone-likelihood',
      covariates,
      message: `the likelihood climbs for ever along ${covariates.join(', ')} (the events are separated); there is no finite coefficient; penalty 'firth' gives one`,
    },
  ];
}
