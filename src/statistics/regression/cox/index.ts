export {
  type CoxBaselineOptions,
  type CoxCumulativeHazard,
  coxBaselineHazard,
} from './baseline-hazard.ts';
export { type Concordance, concordance } from './concordance.ts';
export { coxModel } from './cox-model.ts';
export {
  type ProportionalHazardsOptions,
  type ProportionalHazardsTest,
  proportionalHazardsTest,
  type TimeTransform,
} from './proportional-hazards.ts';
export {
  type CoxResidualOptions,
  type CoxRowResidual,
  type CoxVectorResidual,
  coxResiduals,
  schoenfeldTimes,
} from './residuals.ts';
export {
  type CoxSurvivalCurve,
  type CoxSurvivalInterval,
  type CoxSurvivalOptions,
  coxSurvival,
} from './survival-curve.ts';
export type {
  CoxColumns,
  CoxData,
  CoxLabels,
  CoxModel,
  CoxOptions,
  CoxTerm,
  CoxTest,
  CoxTies,
  CoxWarning,
} from './types.ts';
