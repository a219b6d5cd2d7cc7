export type { BreslowDayTest } from './breslow-day.ts';
export { chiSquareTest } from './chi-square-test.ts';
export type { ChiSquareTest, ChiSquareTestOptions } from './chi-square-test.ts';
export { fisherExact } from './fisher-exact.ts';
export type { FisherExact, FisherExactOptions } from './fisher-exact.ts';
export { mantelHaenszel } from './mantel-haenszel.ts';
export type { MantelHaenszel, MantelHaenszelOptions } from './mantel-haenszel.ts';
