import { StatisticsError } from '../../errors.ts';
import { relativeRisks, type Workspace, workspace } from './workspace.ts';
import { type RiskSets, riskSets } from './risk-sets.ts';
import type { CoxModel } from './types.ts';

/** A fitted model with its rows arranged again and the relative risks at its coefficients. */
export interface Fitted {
  readonly sets: RiskSets;
  /** Coefficients of the scaled covariates. */
  readonly beta: Float64Array;
  readonly work: Workspace;
}

/**
 * @throws StatisticsError `not-converged` for a model without finite estimates of all coefficients, `missing-argument`
 *   for one read back from JSON
 */
export function fitted(model: CoxModel): Fitted {
  requireConverged(model);
  if (!(model.data.time instanceof Float64Array)) {
    throw new StatisticsError(
      'missing-argument',
      'the model is a copy without its rows; use the one that was fitted',
    );
  }
  const sets = riskSets(model.data);
  const beta = new Float64Array(sets.p);
  for (const [j, term] of model.terms.entries()) {
    beta[j] = (term.coefficient as number) * (sets.scale[j] as number);
  }
  const work = workspace(sets.n, sets.p);
  relativeRisks(sets, beta, work);
  return { sets, beta, work };
}

export function requireConverged(model: CoxModel): asserts model is CoxModel & {
  covariance: readonly (readonly number[])[];
  naiveCovariance: readonly (readonly number[])[];
} {
  if (model.converged && model.covariance !== undefined && model.naiveCovariance !== undefined) return;
  const reason = model.warnings.map(warning => warning.message).join('; ');
  throw new StatisticsError('not-converged', `the model has no estimate to go on: ${reason}`);
}
