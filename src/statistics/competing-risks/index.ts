export {
  type CumulativeIncidence,
  type CumulativeIncidenceOptions,
  cumulativeIncidence,
  type IncidenceCurve,
  type IncidenceVariance,
} from './cumulative-incidence.ts';
export { cumulativeIncidenceByGroup, type GroupIncidence } from './cumulative-incidence-by-group.ts';
export type { CompetingFollowUpData } from './competing-follow-up.ts';
export { type GrayTest, type GrayTestData, type GrayTestOptions, grayTest } from './gray-test.ts';
export { type IncidenceAtTime, incidenceAt } from './incidence-at.ts';
