export {
  type MeanCumulativeCount,
  type MeanCumulativeCountOptions,
  meanCumulativeCount,
} from './mean-cumulative-count.ts';
export { type GroupCount, meanCumulativeCountByGroup } from './mean-cumulative-count-by-group.ts';
export type { RecurrentEventData } from './recurrences.ts';
