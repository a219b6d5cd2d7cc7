export { type KnownTruth, knownTruth } from './known-truth.ts';
export { withTruth } from './with-truth.ts';
