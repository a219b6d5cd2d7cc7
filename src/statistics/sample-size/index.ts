export {
  type Accrual,
  eventProbability,
  type LogRankSampleSize,
  type LogRankSampleSizeOptions,
  logRankSampleSize,
} from './log-rank-sample-size.ts';
export {
  type ClusterSizes,
  designEffect,
  meanPrecision,
  type PrecisionSampleSize,
  proportionPrecision,
} from './precision.ts';
export {
  type ProportionsPowerOptions,
  type ProportionsSampleSize,
  type ProportionsSampleSizeOptions,
  proportionsPower,
  proportionsSampleSize,
} from './proportions-sample-size.ts';
