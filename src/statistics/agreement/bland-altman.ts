import { codedLabels, finiteColumn, finiteColumnOf } from '../columns.ts';
import { tailOutside } from '../confidence-level.ts';
import type { IntervalEstimate, LevelOption } from '../confidence-level.ts';
import { studentTQuantileUpper } from '../distributions/student-t.ts';
import { StatisticsError } from '../errors.ts';

export interface BlandAltmanOptions extends LevelOption {
  /** Standard deviations from the bias to each limit; 1.96 unless given. */
  readonly multiplier?: number;
  /** Subject of each pair, if subjects were measured more than once. */
  readonly cluster?: ArrayLike<string | number>;
}

/** A limit of agreement; its interval is given only without clusters. */
export interface AgreementLimit {
  readonly estimate: number;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}

export interface LimitsOfAgreement {
  /** Mean of first less second, with the t interval. */
  readonly bias: IntervalEstimate;
  /** Of one difference; with clusters, within and between subjects together. */
  readonly standardDeviation: number;
  readonly lowerLimit: AgreementLimit;
  readonly upperLimit: AgreementLimit;
  readonly n: number;
  readonly clusters?: number;
}

/**
 * Limits of agreement of two methods of measurement: mean difference plus and minus 1.96 standard deviations of the
 * differences. A limit's standard error is s sqrt(1/n + multiplier^2/(2(n - 1))).
 *
 * With clusters (several pairs a subject, the true value free to vary) the standard deviation is the root of the
 * variances within and between subjects, from a one-way analysis of variance; the bias is the mean of all differences,
 * its interval uses the number of subjects less one.
 *
 * Source: Bland and Altman, Lancet 1986;i:307-310; Statistical Methods in Medical Research 1999;8:135-160; repeated:
 * Journal of Biopharmaceutical Statistics 2007;17:571-582.
 *
 * @param first, second two measurements of the same things, in the same units
 * @throws StatisticsError `empty` under two pairs, `one-group` for a single cluster, `length`, `out-of-range`,
 *   `missing-value`, `not-finite`
 * @example blandAltman([10, 12, 15, 9], [11, 12, 13, 8]).bias.estimate // 0.5
 */
export function blandAltman(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  options: BlandAltmanOptions = {},
): LimitsOfAgreement {
  const a = finiteColumn('first', first);
  const b = finiteColumnOf('second', second, a.length);
  const n = a.length;
  if (n < 2) throw new StatisticsError('empty', `first has ${n} values; two pairs are needed`);
  const { multiplier = 1.96 } = options;
  if (!(multiplier > 0 && multiplier <= 1e50)) {
    throw new StatisticsError('out-of-range', `multiplier is ${multiplier}; it must be above 0`);
  }
  const tail = tailOutside(options);
  const difference = a.map((value, i) => value - (b[i] as number));
  const bias = difference.reduce((sum, value) => sum + value, 0) / n;
  if (options.cluster !== undefined) {
    return clustered(difference, bias, multiplier, tail, options.cluster);
  }
  const squares = difference.reduce((sum, value) => sum + (value - bias) ** 2, 0);
  const standardDeviation = Math.sqrt(squares / (n - 1));
  const t = studentTQuantileUpper(tail, n - 1);
  const reach = (t * standardDeviation) / Math.sqrt(n);
  const limitReach = t * standardDeviation * Math.sqrt(1 / n + multiplier ** 2 / (2 * (n - 1)));
  const limit = (estimate: number): AgreementLimit => ({
    estimate,
    lower: estimate - limitReach,
    upper: estimate + limitReach,
  });
  return {
    bias: { estimate: bias, lower: bias - reach, upper: bias + reach },
    standardDeviation,
    lowerLimit: limit(bias - multiplier * standardDeviation),
    upperLimit: limit(bias + multiplier * standardDeviation),
    n,
  };
}

function clustered(
  difference: Float64Array,
  bias: number,
  multiplier: number,
  tail: number,
  cluster: ArrayLike<string | number>,
): LimitsOfAgreement {
  const n = difference.length;
  const { codes, labels } = codedLabels('cluster', cluster, n);
  const clusters = labels.length;
  if (clusters < 2) throw new StatisticsError('one-group', 'cluster has one label; two subjects are needed');
  const sizes = new Float64Array(clusters);
  const means = new Float64Array(clusters);
  for (const [i, code] of codes.entries()) {
    sizes[code] = (sizes[code] as number) + 1;
    means[code] = (means[code] as number) + (difference[i] as number);
  }
  for (let c = 0; c < clusters; c++) means[c] = (means[c] as number) / (sizes[c] as number);
  let within = 0;
  for (const [i, code] of codes.entries())
    within += ((difference[i] as number) - (means[code] as number)) ** 2;
  let between = 0;
  let sizeSquares = 0;
  for (let c = 0; c < clusters; c++) {
    between += (sizes[c] as number) * ((means[c] as number) - bias) ** 2;
    sizeSquares += (sizes[c] as number) ** 2;
  }
  const meanBetween = between / (clusters - 1);
  // Without a repeated pair the variances cannot be told apart; all of it then lies between subjects.
  const meanWithin = n > clusters ? within / (n - clusters) : 0;
  const usualSize = (n * n - sizeSquares) / ((clusters - 1) * n);
  const subjectVariance = Math.max(0, (meanBetween - meanWithin) / usualSize);
  const standardDeviation = Math.sqrt(meanWithin + subjectVariance);
  const error = Math.sqrt(meanWithin / n + (subjectVariance * sizeSquares) / (n * n));
  const reach = studentTQuantileUpper(tail, clusters - 1) * error;
  const limit = (estimate: number): AgreementLimit => ({ estimate, lower: undefined, upper: undefined });
  return {
    bias: { estimate: bias, lower: bias - reach, upper: bias + reach },
    standardDeviation,
    lowerLimit: limit(bias - multiplier * standardDeviation),
    upperLimit: limit(bias + multiplier * standardDeviation),
    n,
    clusters,
  };
}
