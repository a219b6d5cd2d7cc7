import {
  bootstrap,
  coxModel,
  cumulativeIncidenceByGroup,
  grayTest,
  kaplanMeierByGroup,
  logRankTest,
  resampledQuantile,
} from '../../src/statistics/index.ts';
import type { BenchmarkColumns } from './data.ts';

/** What is timed, by the name that both sides know it by. Each returns a number that both sides must agree on. */
export const tasks: Readonly<Record<string, (d: BenchmarkColumns) => number>> = {
  'kaplan-meier': d =>
    kaplanMeierByGroup({ time: d.time, event: d.status, group: d.group })[0]?.curve.survival[99] ?? -1,
  'log-rank': d => logRankTest({ time: d.time, event: d.status, group: d.group }).statistic,
  cox: d =>
    coxModel({ time: d.time, event: d.status, covariates: d.covariates }, { ties: 'efron' }).concordance
      .estimate ?? -1,
  'aalen-johansen': d =>
    cumulativeIncidenceByGroup({ time: d.time, cause: d.cause, group: d.group })[0]?.causes[0]
      ?.standardError[99] ?? -1,
  gray: d => grayTest({ time: d.time, cause: d.cause, group: d.group }, { cause: 1 }).statistic,
  // Draws are random on both sides, so only the estimate itself is compared.
  bootstrap: d => {
    const median = resampledQuantile({ time: d.time, event: d.status }, 0.5);
    return bootstrap({ n: d.time.length, cluster: d.infant }, (_, weights) => median(weights), {
      resamples: 1000,
      seed: 1,
      bca: false,
    }).estimate;
  },
};
