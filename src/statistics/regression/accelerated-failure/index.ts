export {
  type AcceleratedFailureData,
  type AcceleratedFailureModel,
  type AcceleratedFailureOptions,
  type AcceleratedFailureTerm,
  type AcceleratedFailureTimes,
  acceleratedFailureModel,
} from './accelerated-failure-model.ts';
export type { IntervalTimes, RightCensoredTimes } from './censored-times.ts';
export { type CoxSnellResidual, coxSnellResiduals } from './cox-snell-residuals.ts';
export type { FailureDistribution } from './error-distribution.ts';
export {
  acceleratedFailureQuantile,
  acceleratedFailureSurvival,
  type FailureSurvival,
  type FailureTimeQuantile,
} from './predict.ts';
