export { autocorrelation } from './autocorrelation.ts';
export { type Summary, summarise } from './summarise.ts';
export { type QuantileType, sampleQuantiles } from './quantile.ts';
