import { finiteColumn, finiteColumnOf } from '../columns.ts';
import type { TestResult } from '../confidence-level.ts';
import { twoSidedStudentT } from '../distributions/student-t.ts';
import { StatisticsError } from '../errors.ts';
import { midRanks } from './mid-ranks.ts';
import { squaredDifferencesAtMost } from './spearman-distribution.ts';
import { requireOption } from '../option.ts';

export interface SpearmanOptions {
  /**
   * `exact`: the distribution of the rank differences (a series from 10 pairs on), only without ties; `t`: Student's t
   * on n - 2. Unless given, exact without ties up to 1,290 pairs, else t. Far out, where the series gives nothing above 0,
   * t is used even so.
   */
  readonly method?: 'exact' | 't';
}

export interface RankCorrelation extends TestResult {
  readonly estimate: number;
  readonly n: number;
}

export interface SpearmanCorrelation extends RankCorrelation {
  readonly method: 'exact' | 't';
}

/**
 * Spearman's rank correlation: the product-moment correlation of mid-ranks. `statistic` is the sum of squared rank
 * differences, in the form (n^3 - n)(1 - estimate)/6 that also holds with ties.
 *
 * Source: Spearman 1904; tail: Best and Roberts, Applied Statistics 1975;24:377-379.
 *
 * @param x, y pairs, at least 3
 * @throws StatisticsError `empty` under three pairs, `constant-covariate` if all of x or of y are equal, `length`,
 *   `unknown-option`, `missing-value`, `not-finite`
 * @example spearman([1, 2, 3, 4], [10, 30, 20, 40]).estimate // 0.8
 */
export function spearman(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: SpearmanOptions = {},
): SpearmanCorrelation {
  const first = finiteColumn('x', x);
  const second = finiteColumnOf('y', y, first.length);
  const n = first.length;
  if (n < 3) throw new StatisticsError('empty', `x has ${n} values; three pairs are needed`);
  const a = midRanks(first);
  const b = midRanks(second);
  if (a.ties.length === 1 || b.ties.length === 1) {
    throw new StatisticsError(
      'constant-covariate',
      `all values of ${a.ties.length === 1 ? 'x' : 'y'} are equal; they have no correlation`,
    );
  }
  const tied = a.ties.length < n || b.ties.length < n;
  const method = options.method ?? (!tied && n <= 1290 ? 'exact' : 't');
  requireOption('method', method, ['exact', 't']);
  if (method === 'exact' && tied) {
    throw new StatisticsError('unknown-option', 'method exact needs values without ties; use t');
  }
  const centre = (n + 1) / 2;
  let product = 0;
  let spreadA = 0;
  let spreadB = 0;
  for (let i = 0; i < n; i++) {
    const u = (a.ranks[i] as number) - centre;
    const v = (b.ranks[i] as number) - centre;
    product += u * v;
    spreadA += u * u;
    spreadB += v * v;
  }
  const estimate = Math.max(-1, Math.min(1, product / Math.sqrt(spreadA * spreadB)));
  const most = (n * n * n - n) / 3;
  const statistic = (most / 2) * (1 - estimate);
  // Where the series has run out of accuracy and gives nothing above 0, t stands in, and says so.
  const series = method === 'exact' ? exact(Math.round(statistic), most, n) : 0;
  const used = series > 0 ? 'exact' : 't';
  const pValue = series > 0 ? series : byStudent(estimate, n);
  return {
    estimate,
    statistic,
    pValue,
    method: used,
    n,
  };
}

/** Both tails, the distribution being symmetric about the middle of 0 and `most`. */
function exact(sum: number, most: number, n: number): number {
  return Math.min(1, 2 * squaredDifferencesAtMost(Math.min(sum, most - sum), n));
}

function byStudent(estimate: number, n: number): number {
  const rest = (1 - estimate) * (1 + estimate);
  if (rest === 0) return 0;
  return twoSidedStudentT(estimate * Math.sqrt((n - 2) / rest), n - 2);
}
