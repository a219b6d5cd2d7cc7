import { confidenceLevel } from '../../confidence-level.ts';
import { StatisticsError } from '../../errors.ts';
import { choleskyInPlace, choleskyInverse, matrixRows } from '../../linear-algebra/cholesky.ts';
import { hasFractionalWeights } from '../../survival/follow-up.ts';
import { checkedColumns, requireClusters } from './columns.ts';
import { concordanceOfRisks } from './concordance.ts';
import { firthObjective } from './firth.ts';
import { maximise, type Objective } from './newton.ts';
import { partialLikelihood } from './partial-likelihood.ts';
import { type Workspace, workspace } from './workspace.ts';
import { type RiskSets, riskSets } from './risk-sets.ts';
import { clusterSums, crossProduct, sandwich, scoreResiduals } from './score-residuals.ts';
import { chiSquareTest, fitWarnings, terms, waldTest } from './summary.ts';
import type { CoxColumns, CoxData, CoxModel, CoxOptions, CoxTies } from './types.ts';
import { requireOption } from '../../option.ts';

/**
 * Cox's proportional hazards model: the hazard of a row is h0(t) exp(sum of coefficient x covariate),
 * with h0 free, and its own in every stratum. The coefficients maximise the partial likelihood.
 *
 * At risk at t is entry < t <= time, within the stratum. Tied events: Efron (default) or Breslow. Recurrent
 * events are several rows with entry and exit times and one `cluster` label; a covariate that changes in
 * time is split into rows likewise.
 *
 * With `cluster` the covariance is the cross product of the weighted dfbeta residuals summed by cluster,
 * across strata and without a small-sample factor (Lin and Wei 1989, J Am Stat Assoc 84:1074); it gives
 * the limits, z, p-values, the Wald test and the error of the concordance. The likelihood-ratio and score
 * tests do not use it; the robust score test does.
 *
 * A weight that is not a whole number cannot stand for repeated rows: without `cluster` the covariance is then
 * the same with each row a cluster of its own, as in `kaplanMeier`.
 *
 * With weights Efron's ties use the mean weight of the tied events, so that a row of weight 2 is not the
 * same as the row twice; under Breslow's it is.
 *
 * Where the likelihood climbs for ever (separation), the term says `estimate: 'infinite'`, the model
 * `converged: false`, and `warnings` names the covariate; `penalty: 'firth'` gives finite estimates
 * (Heinze and Schemper 2001, Biometrics 57:114). Under the penalty the log likelihood, the
 * likelihood-ratio test and the score test are those of the penalised likelihood, and limits are Wald's.
 *
 * Times are in any one unit, and tied if they are the same number: nothing is merged, so they should be whole
 * days or otherwise free of rounding. Coefficients are per unit of the covariate. Exact ties are not offered. Time n log n + n p^2 per
 * iteration, memory n p.
 *
 * Source: Cox (1972), J R Stat Soc B 34:187; Efron (1977), J Am Stat Assoc 72:557; Andersen and Gill
 * (1982), Ann Stat 10:1100.
 *
 * @throws StatisticsError for unusable columns, `no-events`, `constant-covariate`, `collinear-covariates`
 *
 * @example coxModel({ time, event, cluster: infant, covariates: { severe } }).terms[0].hazardRatio // 0.4606
 */
export function coxModel(data: CoxData, options: CoxOptions = {}): CoxModel {
  const ties = options.ties ?? 'efron';
  const level = options.level ?? 0.95;
  const penalty = options.penalty ?? 'none';
  requireOption('ties', ties, ['efron', 'breslow']);
  requireOption('penalty', penalty, ['none', 'firth']);
  confidenceLevel(level);
  const columns = checkedColumns(data);
  if (columns.cluster !== undefined) requireClusters(columns.cluster);
  const cluster = columns.cluster ?? ownClusters(columns.weight);
  const sets = riskSets(columns);
  if (sets.events === 0) {
    throw new StatisticsError('no-events', 'event is 0 in every row; a hazard ratio needs events');
  }
  const work = workspace(sets.n, sets.p);
  const objective =
    penalty === 'firth' ? firthObjective(sets, ties, work) : likelihoodObjective(sets, ties, work);
  const fit = maximise(objective);
  const naive = inverseInformation(sets, work);
  const infinite = new Set(fit.monotone);
  const robust =
    cluster === undefined || naive === undefined || !fit.converged
      ? undefined
      : sandwich(naive, clusterSums(sets, scoreResiduals(sets, ties, fit.beta, work), cluster));
  const concordance = concordanceOfRisks(sets, linearPredictors(sets, fit.beta), columns.cluster);
  const usable = fit.converged ? naive : undefined;
  const covariance = robust ?? usable;
  const p = sets.p;
  return {
    terms: terms(
      sets,
      fit.beta,
      fit.converged || infinite.size > 0 ? naive : undefined,
      robust,
      infinite,
      level,
    ),
    covariance: covariance === undefined ? undefined : matrixRows(inUnits(sets, covariance), p),
    naiveCovariance: usable === undefined ? undefined : matrixRows(inUnits(sets, usable), p),
    logLikelihood: { initial: fit.initial, final: fit.final },
    likelihoodRatioTest: chiSquareTest(2 * Math.max(0, fit.final - fit.initial), p),
    waldTest: covariance === undefined ? undefined : waldTest(fit.beta, covariance),
    scoreTest: chiSquareTest(fit.scoreStatistic, p),
    ...(cluster === undefined ? {} : { robustScoreTest: robustScoreTest(sets, cluster, ties, work) }),
    concordance,
    n: sets.n,
    events: sets.events,
    iterations: fit.iterations,
    converged: fit.converged,
    warnings: fitWarnings(sets.names, fit),
    ties,
    penalty,
    level,
    data: columns,
  };
}

function likelihoodObjective(sets: RiskSets, ties: CoxTies, work: Workspace): Objective {
  return {
    names: sets.names,
    range: sets.range,
    unit: sets.eventWeights / sets.events,
    score: work.score,
    information: work.information,
    curvature: work.information,
    evaluate: beta => partialLikelihood(sets, ties, beta, work),
  };
}

export function inverseInformation(sets: RiskSets, work: Workspace): Float64Array | undefined {
  const factor = work.information.slice();
  return choleskyInPlace(factor, sets.p, 1e-13) >= 0 ? undefined : choleskyInverse(factor, sets.p);
}

/** A covariance of scaled coefficients in the covariates' own units. */
export function inUnits(sets: RiskSets, covariance: Float64Array): Float64Array {
  const { p, scale } = sets;
  return covariance.map(
    (value, k) => value / ((scale[Math.floor(k / p)] as number) * (scale[k % p] as number)),
  );
}

export function linearPredictors(sets: RiskSets, beta: Float64Array): Float64Array {
  const { n, p, z, offset } = sets;
  const eta = new Float64Array(n);
  for (let i = 0, at = 0; i < n; i++) {
    let sum = offset === undefined ? 0 : (offset[i] as number);
    for (let j = 0; j < p; j++) sum += (beta[j] as number) * (z[at++] as number);
    eta[i] = sum;
  }
  return eta;
}

/** Each row a cluster of its own, if weights are fractional. */
function ownClusters(weight: Float64Array | undefined): Cluster | undefined {
  if (weight === undefined || !hasFractionalWeights(weight)) return undefined;
  const codes = Int32Array.from(weight, (_, row) => row);
  return { codes, labels: Array.from(codes) };
}

type Cluster = NonNullable<CoxColumns['cluster']>;

function robustScoreTest(
  sets: RiskSets,
  cluster: Cluster,
  ties: CoxTies,
  work: Workspace,
): CoxModel['robustScoreTest'] {
  const p = sets.p;
  const sums = clusterSums(sets, scoreResiduals(sets, ties, new Float64Array(p), work), cluster);
  const total = new Float64Array(p);
  for (let k = 0; k < sums.length; k++) total[k % p] = (total[k % p] as number) + (sums[k] as number);
  return waldTest(total, crossProduct(sums, p));
}
