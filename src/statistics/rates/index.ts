export { poissonRateInterval } from './poisson-rate-interval.ts';
export type { RateInterval, RateIntervalOptions } from './poisson-rate-interval.ts';
export { rateDifference } from './rate-difference.ts';
export { rateRatio } from './rate-ratio.ts';
export type { RateRatio } from './rate-ratio.ts';
