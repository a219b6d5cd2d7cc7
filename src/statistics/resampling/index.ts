export {
  type Bootstrap,
  type BootstrapData,
  type BootstrapInterval,
  type BootstrapOptions,
  bcaInterval,
  bootstrap,
  bootstrapQuantile,
  type ResampledStatistic,
} from './bootstrap.ts';
export {
  type PermutationData,
  type PermutationOptions,
  type PermutationTest,
  permutationTest,
} from './permutation-test.ts';
export { type RandomStream, randomStream } from './random.ts';
