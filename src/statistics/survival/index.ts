export type { SurvivalCurve, SurvivalVariance } from './curve.ts';
export type { FollowUpData } from './follow-up.ts';
export { type KaplanMeierOptions, kaplanMeier } from './kaplan-meier.ts';
export {
  type GroupCurve,
  type GroupedFollowUpData,
  type GroupOrder,
  kaplanMeierByGroup,
} from './kaplan-meier-by-group.ts';
export { type LogRankData, type LogRankOptions, type LogRankTest, logRankTest } from './log-rank.ts';
export {
  type CumulativeHazard,
  type HazardVariance,
  type NelsonAalenOptions,
  nelsonAalen,
} from './nelson-aalen.ts';
export { type PairwiseLogRank, pairwiseLogRank } from './pairwise-log-rank.ts';
export { resampledQuantile } from './resampled-quantile.ts';
export {
  type RestrictedMean,
  type RestrictedMeanDifference,
  restrictedMean,
  restrictedMeanDifference,
} from './restricted-mean.ts';
export { medianFollowUp, reverseKaplanMeier } from './reverse-kaplan-meier.ts';
export { type RiskTable, type RiskTableRow, riskTable } from './risk-table.ts';
export { type SurvivalAtTime, survivalAt } from './survival-at.ts';
export { type QuantileEstimate, survivalQuantile } from './survival-quantile.ts';
export { type TurnbullEstimate, type TurnbullOptions, turnbull } from './turnbull.ts';
export { type TurnbullAtTime, turnbullAt, turnbullQuantile } from './turnbull-at.ts';
export {
  type TurnbullBootstrap,
  type TurnbullBootstrapOptions,
  turnbullBootstrap,
} from './turnbull-bootstrap.ts';
export type { IntervalCensoredData } from './turnbull-intervals.ts';
