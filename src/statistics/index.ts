// Everything that the package offers under `forefoot-outcomes/statistics`.
export { type StatisticsErrorCode, StatisticsError } from './errors.ts';
export * from './adjust-p-values.ts';
export * from './distributions/index.ts';
export * from './survival/index.ts';
export * from './competing-risks/index.ts';
export * from './multi-state/index.ts';
export * from './recurrent-events/index.ts';
export * from './regression/cox/index.ts';
export * from './regression/subdistribution-hazard.ts';
export * from './regression/accelerated-failure/index.ts';
export * from './regression/linear-model.ts';
export * from './regression/logistic-model.ts';
export * from './regression/poisson-model.ts';
export * from './missing-data/index.ts';
export * from './proportions/index.ts';
export * from './rates/index.ts';
export * from './tables/index.ts';
export * from './resampling/index.ts';
