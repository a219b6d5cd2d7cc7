import { requirePositiveSize } from '../columns.ts';
import { normalQuantileUpper } from '../distributions/normal.ts';
import { StatisticsError } from '../errors.ts';
import { between } from './checks.ts';

export interface PrecisionSampleSize {
  /** Not rounded. */
  readonly n: number;
  readonly roundedUp: number;
}

/**
 * Subjects so that the normal interval of a proportion reaches `halfWidth` either way: z^2 p (1 - p)/h^2.
 *
 * Source: Cochran, Sampling Techniques, 3rd edition (1977), section 4.4.
 *
 * @throws StatisticsError `out-of-range`
 * @example proportionPrecision(0.2, 0.05).roundedUp // 246
 */
export function proportionPrecision(
  proportion: number,
  halfWidth: number,
  level = 0.95,
): PrecisionSampleSize {
  between('proportion', proportion, 0, 1);
  return fromVariance(proportion * (1 - proportion), halfWidth, level);
}

/**
 * Subjects so that the normal interval of a mean reaches `halfWidth` either way: z^2 sd^2/h^2.
 *
 * Source: Cochran, Sampling Techniques, 3rd edition (1977), section 4.6.
 *
 * @throws StatisticsError `out-of-range`
 * @example meanPrecision(4, 1).roundedUp // 62
 */
export function meanPrecision(
  standardDeviation: number,
  halfWidth: number,
  level = 0.95,
): PrecisionSampleSize {
  requirePositiveSize('standardDeviation', standardDeviation);
  return fromVariance(standardDeviation ** 2, halfWidth, level);
}

function fromVariance(variance: number, halfWidth: number, level: number): PrecisionSampleSize {
  requirePositiveSize('halfWidth', halfWidth);
  between('level', level, 0, 1);
  const z = normalQuantileUpper((1 - level) / 2);
  const n = (z * z * variance) / (halfWidth * halfWidth);
  return { n, roundedUp: Math.ceil(n) };
}

export interface ClusterSizes {
  /** Mean rows a cluster: 1.5 where half the infants have two affected feet. */
  readonly meanSize: number;
  /** Correlation of two rows of one cluster. */
  readonly intraclassCorrelation: number;
  /** Standard deviation of cluster sizes over their mean; default 0. */
  readonly sizeVariation?: number | undefined;
}

/**
 * By how much clustering multiplies the rows needed: 1 + ((v^2 + 1) m - 1) r, with m the mean size, v its relative
 * standard deviation and r the intraclass correlation.
 *
 * Source: Kish, Survey Sampling, 1965; Eldridge, Ashby & Kerry, Int J Epidemiol 2006;35:1292-1300.
 *
 * @throws StatisticsError `out-of-range`
 *
 * @example designEffect({ meanSize: 2, intraclassCorrelation: 0.6 }) // 1.6
 */
export function designEffect({ meanSize, intraclassCorrelation, sizeVariation = 0 }: ClusterSizes): number {
  if (!(meanSize >= 1 && meanSize <= 1e50)) {
    throw new StatisticsError('out-of-range', `meanSize is ${meanSize}; 1 or more is needed`);
  }
  if (!(intraclassCorrelation >= 0 && intraclassCorrelation <= 1)) {
    throw new StatisticsError(
      'out-of-range',
      `intraclassCorrelation is ${intraclassCorrelation}; 0 to 1 is needed`,
    );
  }
  if (!(sizeVariation >= 0 && sizeVariation <= 1e50)) {
    throw new StatisticsError('out-of-range', `sizeVariation is ${sizeVariation}; 0 or more is needed`);
  }
  return 1 + ((sizeVariation ** 2 + 1) * meanSize - 1) * intraclassCorrelation;
}
