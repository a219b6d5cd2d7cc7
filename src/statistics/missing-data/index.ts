export {
  type ImputationOptions,
  type IncompleteColumn,
  type MultipleImputation,
  multipleImputation,
} from './multiple-imputation.ts';
export {
  type EstimatesToPool,
  type PooledEstimate,
  type PoolOptions,
  poolEstimates,
} from './pool-estimates.ts';
export { type CoefficientsToPool, type PooledWaldTest, pooledWaldTest } from './pooled-wald-test.ts';
