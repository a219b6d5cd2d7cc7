/** What kind of input a statistic refused; stable, so that a caller can act on it. */
export type StatisticsErrorCode =
  | 'empty'
  | 'length'
  | 'missing-value'
  | 'not-finite'
  | 'out-of-range'
  | 'not-a-whole-number'
  | 'entry-not-before-exit'
  | 'one-group'
  | 'no-events'
  | 'constant-covariate'
  | 'collinear-covariates'
  | 'not-converged'
  | 'missing-argument'
  | 'unknown-option';

/**
 * The one error that every function in `statistics` throws for input it cannot use.
 * The message names the argument, the position (counted from 0), the value, and what is allowed.
 */
export class StatisticsError extends Error {
  override readonly name = 'StatisticsError';
  readonly code: StatisticsErrorCode;

  constructor(code: StatisticsErrorCode, message: string) {
    super(message);
    this.code = code;
  }
}
