import type { CoxTerm } from '../../statistics/regression/cox/index.ts';
import type { Effect } from '../finding.ts';

/** The hazard ratio of a term with its limits, or the name of why there is none. */
export function ratioOf(
  term: Pick<CoxTerm, 'estimate' | 'hazardRatio' | 'lower' | 'upper'> | undefined,
): Pick<Effect, 'estimate' | 'lower' | 'upper' | 'state'> {
  const { hazardRatio, lower, upper } = term ?? {};
  if (hazardRatio === undefined) {
    return { state: term?.estimate === 'infinite' ? 'separated' : 'did not converge' };
  }
  // A ratio without limits comes of data in which no event tells the groups apart.
  if (lower === undefined || upper === undefined) return { state: 'nothing to compare' };
  return { estimate: hazardRatio, lower, upper };
}
