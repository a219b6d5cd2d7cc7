export { autocorrelation } from './autocorrelation.ts';
export { type Description, describe } from './describe.ts';
export { type QuantileType, sampleQuantiles } from './quantile.ts';
