import { matrixRows } from '../../linear-algebra/cholesky.ts';
import { symmetricEigen } from '../../linear-algebra/symmetric-eigen.ts';
import type { ModelWarning } from '../ratio-terms.ts';
import type { CensoredFit } from './fit.ts';

/** An information this small against the largest, covariates being of unit spread, is a likelihood that is flat. */
const FLAT = 1e-12;
/** A scale below this fits the times exactly. */
const NO_SCALE = 1e-7;

/**
 * Why a fit has no estimates, if it has none: the scale runs to 0, the likelihood flattens out along covariates on
 * its way to infinity, or the iterations ran out.
 */
export function fitTrouble(fit: CensoredFit, names: readonly string[]): ModelWarning | undefined {
  if (!(fit.scale > NO_SCALE)) {
    return trouble('not-converged', [], 'the scale runs to 0: the times are fitted exactly');
  }
  const infinite = flatDirection(fit, names);
  if (infinite.length > 0) {
    return trouble(
      'separation',
      infinite,
      `the likelihood climbs for ever along ${infinite.join(', ')}; join groups or drop the term`,
    );
  }
  if (fit.converged && fit.covariance !== undefined) return undefined;
  return trouble('not-converged', [], `no maximum was found in ${fit.iterations} iterations`);
}

/** The terms that make up the direction in which the information vanishes; none where it does not. */
function flatDirection(fit: CensoredFit, names: readonly string[]): string[] {
  if (!fit.information.every(Number.isFinite)) return [];
  const { values, vectors } = symmetricEigen(matrixRows(fit.information, fit.parameters.length));
  const largest = Math.max(...values);
  const place = values.indexOf(Math.min(...values));
  if ((values[place] as number) > FLAT * largest) return [];
  const direction = (vectors[place] ?? new Float64Array()).map(Math.abs);
  const longest = Math.max(...direction);
  const terms = names.filter((_, j) => (direction[j] ?? 0) > 0.1 * longest);
  // Covariates are centred, so the intercept moves along with any of them.
  const covariates = terms.filter(name => name !== 'intercept');
  return covariates.length > 0 ? covariates : terms;
}

function trouble(code: ModelWarning['code'], covariates: readonly string[], message: string): ModelWarning {
  return { code, covariates, message };
}
