import { requirePositiveSize } from '../columns.ts';
import { normalCumulative, normalQuantileUpper } from '../distributions/normal.ts';
import { StatisticsError } from '../errors.ts';
import { between, requireSides, testQuantiles, type TestOptions } from './checks.ts';
import { requireOption } from '../option.ts';

export interface ProportionsSampleSizeOptions extends TestOptions {
  readonly p1: number;
  readonly p2: number;
  /** Subjects in the second group for each in the first; default 1. */
  readonly ratio?: number | undefined;
  /** Variance under no difference: of the pooled proportion (default), or unpooled as under the difference. */
  readonly variance?: 'pooled' | 'unpooled' | undefined;
  /** Add Fleiss's correction for a test with continuity correction; default false. */
  readonly continuity?: boolean | undefined;
}

export interface ProportionsSampleSize {
  /** Subjects in the first group, not rounded; in each group where the ratio is 1. */
  readonly n: number;
  /** Events expected in both groups together. */
  readonly events: number;
  /** Rounded up group by group. */
  readonly roundedUp: { readonly n: number; readonly second: number; readonly total: number };
}

/**
 * Subjects to compare two proportions. With difference D = |p1 - p2|, q = 1 - p, k the ratio and
 * p = (p1 + k p2)/(1 + k): pooled (z_alpha sqrt((1 + 1/k) p q) + z_beta sqrt(p1 q1 + p2 q2/k))^2 / D^2; unpooled
 * (z_alpha + z_beta)^2 (p1 q1 + p2 q2/k) / D^2; with continuity n/4 (1 + sqrt(1 + 2 (1 + k)/(k n D)))^2.
 *
 * Source: Fleiss, Levin & Paik, Statistical Methods for Rates and Proportions, 3rd ed., section 4.2.
 *
 * @throws StatisticsError `out-of-range` (equal proportions, or outside 0 to 1), `unknown-option`
 *
 * @example proportionsSampleSize({ p1: 0.5, p2: 0.75, power: 0.9 }).roundedUp.n // 77
 */
export function proportionsSampleSize(options: ProportionsSampleSizeOptions): ProportionsSampleSize {
  const { p1, p2, ratio = 1, variance = 'pooled', continuity = false } = options;
  requireProportions(p1, p2);
  requirePositiveSize('ratio', ratio);
  requireOption('variance', variance, ['pooled', 'unpooled']);
  const { alpha, beta } = testQuantiles(options);
  const difference = Math.abs(p1 - p2);
  const apart = Math.sqrt(p1 * (1 - p1) + (p2 * (1 - p2)) / ratio);
  const pooled = (p1 + ratio * p2) / (1 + ratio);
  const together = variance === 'pooled' ? Math.sqrt((1 + 1 / ratio) * pooled * (1 - pooled)) : apart;
  const plain = ((alpha * together + beta * apart) / difference) ** 2;
  const n = continuity
    ? (plain / 4) * (1 + Math.sqrt(1 + (2 * (1 + ratio)) / (ratio * plain * difference))) ** 2
    : plain;
  const first = Math.ceil(n);
  const second = Math.ceil(n * ratio);
  return {
    n,
    events: n * (p1 + ratio * p2),
    roundedUp: { n: first, second, total: first + second },
  };
}

export interface ProportionsPowerOptions {
  readonly p1: number;
  readonly p2: number;
  /** Subjects in each group. */
  readonly n: number;
  readonly alpha?: number | undefined;
  readonly sides?: 1 | 2 | undefined;
}

/**
 * Power of the pooled test of two proportions with n subjects in each group: the probability of rejecting in the
 * direction of the difference; the other tail is left out, as in the sample-size formula.
 *
 * Source: as `proportionsSampleSize`.
 *
 * @throws StatisticsError `out-of-range`, `unknown-option`
 * @example proportionsPower({ p1: 0.5, p2: 0.75, n: 60 }) // 0.8157
 */
export function proportionsPower(options: ProportionsPowerOptions): number {
  const { p1, p2, n, alpha = 0.05, sides = 2 } = options;
  requireProportions(p1, p2);
  requirePositiveSize('n', n);
  between('alpha', alpha, 0, 1);
  requireSides(sides);
  const mean = (p1 + p2) / 2;
  const together = Math.sqrt(2 * mean * (1 - mean));
  const apart = Math.sqrt(p1 * (1 - p1) + p2 * (1 - p2));
  const critical = normalQuantileUpper(alpha / sides);
  return normalCumulative((Math.sqrt(n) * Math.abs(p1 - p2) - critical * together) / apart);
}

function requireProportions(p1: number, p2: number): void {
  between('p1', p1, 0, 1);
  between('p2', p2, 0, 1);
  if (p1 === p2) throw new StatisticsError('out-of-range', `p1 and p2 are both ${p1}; they must differ`);
}
