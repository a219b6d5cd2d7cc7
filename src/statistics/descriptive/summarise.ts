import { mean, medianAbsoluteDeviation, sampleStandardDeviation } from 'simple-statistics';
import { finiteColumn } from '../columns.ts';
import { tailOutside } from '../confidence-level.ts';
import { studentTQuantileUpper } from '../distributions/student-t.ts';
import { sampleQuantiles } from './quantile.ts';

export interface Summary {
  readonly n: number;
  readonly mean: number;
  /** With n - 1; this and what follows from it are undefined for a single value. */
  readonly standardDeviation: number | undefined;
  readonly standardError: number | undefined;
  /** Limits of the mean, by t on n - 1 degrees of freedom. */
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  readonly minimum: number;
  /** Quartiles and median are quantiles of type 7. */
  readonly lowerQuartile: number;
  readonly median: number;
  readonly upperQuartile: number;
  readonly maximum: number;
  /** Median distance from the median, not rescaled. */
  readonly medianAbsoluteDeviation: number;
}

/**
 * Summary of one numeric column: the mean m, the standard deviation sqrt(sum of (x - m)^2 / (n - 1)), the standard error
 * of the mean, standard deviation / sqrt(n), with limits m plus and minus t times it, and quantiles as of
 * `sampleQuantiles`.
 *
 * Source: Hyndman and Fan, Am Stat 1996;50:361-365 (quantiles, type 7); Student, Biometrika 1908;6:1-25 (limits).
 *
 * @throws StatisticsError `empty`, `missing-value`, `not-finite`, `out-of-range` (level)
 *
 * @example summarise([1, 2, 4, 5]).median // 3
 */
export function summarise(values: ArrayLike<number>, { level = 0.95 }: { level?: number } = {}): Summary {
  const tail = tailOutside({ level });
  const column = Array.from(finiteColumn('values', values));
  const n = column.length;
  const centre = mean(column);
  const standardDeviation = n > 1 ? sampleStandardDeviation(column) : undefined;
  const standardError = standardDeviation === undefined ? undefined : standardDeviation / Math.sqrt(n);
  const reach = standardError === undefined ? undefined : studentTQuantileUpper(tail, n - 1) * standardError;
  const at = (p: number): number => sampleQuantiles(column, [p])[0] as number;
  return {
    n,
    mean: centre,
    standardDeviation,
    standardError,
    lower: reach === undefined ? undefined : centre - reach,
    upper: reach === undefined ? undefined : centre + reach,
    minimum: at(0),
    lowerQuartile: at(0.25),
    median: at(0.5),
    upperQuartile: at(0.75),
    maximum: at(1),
    medianAbsoluteDeviation: medianAbsoluteDeviation(column),
  };
}
