import { criticalZ } from '../confidence-level.ts';
import type { LevelOption } from '../confidence-level.ts';
import { twoSidedNormal } from '../distributions/normal.ts';
import { StatisticsError } from '../errors.ts';
import { countTable } from '../tables/count-table.ts';
import { agreementTable } from './agreement-table.ts';
import { requireOption } from '../option.ts';

export type KappaWeights = 'none' | 'linear' | 'quadratic';

export interface KappaOptions extends LevelOption {
  /**
   * Credit for a disagreement by d of k - 1 steps: `none` (default) gives none, `linear` 1 - d/(k - 1),
   * `quadratic` 1 - (d/(k - 1))^2.
   */
  readonly weights?: KappaWeights;
  /** With label arrays: all categories in their order, as the weights need it. */
  readonly categories?: readonly (string | number)[];
}

/** Two ratings of the same subjects, subject by subject. */
export interface TwoRatings {
  readonly first: ArrayLike<string | number>;
  readonly second: ArrayLike<string | number>;
}

export interface Kappa {
  /** Undefined, as everything after it, if both raters used one and the same category throughout. */
  readonly estimate: number | undefined;
  readonly standardError: number | undefined;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  /** estimate over its standard error under no agreement beyond chance, with the two-sided p-value. */
  readonly statistic: number | undefined;
  readonly pValue: number | undefined;
  readonly nullStandardError: number | undefined;
  /** Weighted proportion of agreement observed, and expected by chance from the margins. */
  readonly observedAgreement: number;
  readonly expectedAgreement: number;
  readonly n: number;
}

/**
 * Cohen's kappa of two raters, plain or weighted: (observed - expected agreement)/(1 - expected agreement). The
 * interval is normal with the large-sample standard error; the test uses the one under no agreement. The interval is
 * not held within -1 to 1.
 *
 * Source: Cohen, Educational and Psychological Measurement 1960;20:37-46, and Psychological Bulletin 1968;70:213-220;
 * errors: Fleiss, Cohen and Everitt, Psychological Bulletin 1969;72:323-327.
 *
 * @param ratings a square table of counts (rows: first rater, columns: second, categories in order), or two arrays
 *   of labels
 * @throws StatisticsError `length` for a table that is not square, `empty`,
 *   `out-of-range`, `not-a-whole-number`, `unknown-option`, `missing-value`, `not-finite`
 * @example cohensKappa([[20, 5], [3, 12]]).estimate // 0.5844
 */
export function cohensKappa(
  ratings: ArrayLike<ArrayLike<number>> | TwoRatings,
  options: KappaOptions = {},
): Kappa {
  const { weights = 'none' } = options;
  requireOption('weights', weights, ['none', 'linear', 'quadratic']);
  const z = criticalZ(options);
  const counts =
    'first' in ratings ? agreementTable(ratings.first, ratings.second, options.categories).table : ratings;
  const { rows: k, columns, cells, rowTotals, columnTotals, total: n } = countTable(counts);
  if (k !== columns)
    throw new StatisticsError('length', `table is ${k} x ${columns}; a square one is needed`);
  if (n === 0) throw new StatisticsError('empty', 'table counts no subject');
  if (k < 2) return nothingToTell(n);
  const credit = (i: number, j: number): number => {
    const d = Math.abs(i - j) / (k - 1);
    return weights === 'none' ? (i === j ? 1 : 0) : weights === 'linear' ? 1 - d : 1 - d * d;
  };
  const rowShare = Array.from(rowTotals, count => count / n);
  const columnShare = Array.from(columnTotals, count => count / n);
  // Mean credit that a category of one rater meets in the other's margin.
  const rowMean = rowShare.map((_, i) =>
    columnShare.reduce((sum, share, j) => sum + share * credit(i, j), 0),
  );
  const columnMean = columnShare.map((_, j) =>
    rowShare.reduce((sum, share, i) => sum + share * credit(i, j), 0),
  );
  let observed = 0;
  let expected = 0;
  for (let i = 0; i < k; i++) {
    expected += (rowShare[i] ?? 0) * (rowMean[i] ?? 0);
    for (let j = 0; j < k; j++) observed += ((cells[i * k + j] ?? 0) / n) * credit(i, j);
  }
  const oneCategory = rowShare.some((share, i) => share === 1 && columnShare[i] === 1);
  if (oneCategory) return nothingToTell(n);
  const rest = 1 - expected;
  const estimate = (observed - expected) / rest;
  let spread = 0;
  let nullSpread = 0;
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      const w = credit(i, j);
      const mean = (rowMean[i] ?? 0) + (columnMean[j] ?? 0);
      spread += ((cells[i * k + j] ?? 0) / n) * (w - mean * (1 - estimate)) ** 2;
      nullSpread += (rowShare[i] ?? 0) * (columnShare[j] ?? 0) * (w - mean) ** 2;
    }
  }
  const standardError =
    Math.sqrt(Math.max(0, spread - (estimate - expected * (1 - estimate)) ** 2) / n) / rest;
  const nullStandardError = Math.sqrt(Math.max(0, nullSpread - expected ** 2) / n) / rest;
  const statistic = nullStandardError > 0 ? estimate / nullStandardError : undefined;
  return {
    estimate,
    standardError,
    lower: estimate - z * standardError,
    upper: estimate + z * standardError,
    statistic,
    pValue: statistic === undefined ? undefined : twoSidedNormal(statistic),
    nullStandardError,
    observedAgreement: observed,
    expectedAgreement: expected,
    n,
  };
}

/** Both raters used one and the same category: agreement is full, and full by chance too. */
function nothingToTell(n: number): Kappa {
  return {
    estimate: undefined,
    standardError: undefined,
    lower: undefined,
    upper: undefined,
    statistic: undefined,
    pValue: undefined,
    nullStandardError: undefined,
    observedAgreement: 1,
    expectedAgreement: 1,
    n,
  };
}
