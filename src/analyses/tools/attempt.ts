import { StatisticsError, type StatisticsErrorCode } from '../../statistics/errors.ts';

const STATES: Readonly<Partial<Record<StatisticsErrorCode, string>>> = {
  'no-events': 'no events',
  empty: 'no data',
  'one-group': 'fewer than two infants',
  'constant-covariate': 'does not vary',
  'collinear-covariates': 'cannot be told apart',
  'not-converged': 'did not converge',
};

/** The result of a statistic, or the named state of data that it cannot use. Any other error goes on its way. */
export function attempt<T extends object>(statistic: () => T): T | { readonly state: string } {
  try {
    return statistic();
  } catch (error) {
    if (!(error instanceof StatisticsError)) throw error;
    return { state: STATES[error.code] ?? 'cannot be estimated' };
  }
}
