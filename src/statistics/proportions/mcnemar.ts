import { criticalZ, tailOutside } from '../confidence-level.ts';
import type { IntervalEstimate, LevelOption, OpenIntervalEstimate, TestResult } from '../confidence-level.ts';
import { betaQuantile, betaQuantileUpper } from '../distributions/beta.ts';
import { binomialCumulative, binomialLogProbability } from '../distributions/binomial.ts';
import { chiSquareUpperTail } from '../distributions/chi-square.ts';
import { StatisticsError } from '../errors.ts';
import { countTable } from '../tables/count-table.ts';

export interface McNemarOptions extends LevelOption {
  /** Takes 1 off the absolute difference of the discordant counts, but not below 0; default false. */
  readonly continuity?: boolean;
}

export interface McNemarTest extends TestResult {
  readonly degreesOfFreedom: number;
  /** Pairs that changed: row 1 with column 2, and row 2 with column 1. */
  readonly discordant: readonly [number, number];
  /** Two-sided binomial probability of so uneven a split of the discordant pairs, or a more uneven one. */
  readonly exactPValue: number;
  /** Twice the smaller tail with half the probability of the observed split; 1 for an even split. */
  readonly midPValue: number;
  /** First discordant count over second, with the exact interval; what is infinite or 0/0 is undefined. */
  readonly oddsRatio: OpenIntervalEstimate;
  /** Proportion in row 1 less proportion in column 1, with its Wald interval. */
  readonly difference: IntervalEstimate;
}

/**
 * Test of marginal homogeneity in a paired 2 x 2 table (rows: first measurement, columns: second):
 * (b - c)^2/(b + c) on one degree of freedom, b and c being the discordant counts. `pValue` belongs to the
 * chi-square; the exact and mid-p values stand beside it. With no discordant pair the statistic is 0 and all
 * p-values are 1.
 *
 * Source: McNemar, Psychometrika 1947;12:153-157; mid-p as in Fagerland, Lydersen and Laake, BMC Medical
 * Research Methodology 2013;13:91.
 *
 * @throws StatisticsError `length` unless the table is 2 x 2, `empty` if all counts are 0, `out-of-range`,
 *   `not-a-whole-number`, `missing-value`, `not-finite`
 * @example mcnemar([[30, 12], [5, 40]]).statistic // 2.882
 */
export function mcnemar(table: ArrayLike<ArrayLike<number>>, options: McNemarOptions = {}): McNemarTest {
  const { rows, columns, total, cells } = countTable(table);
  if (rows !== 2 || columns !== 2) {
    throw new StatisticsError('length', `table is ${rows} x ${columns}; 2 x 2 is needed`);
  }
  if (total === 0) throw new StatisticsError('empty', 'table counts no pair');
  const b = cells[1] ?? 0;
  const c = cells[2] ?? 0;
  const changed = b + c;
  const gap = Math.max(0, Math.abs(b - c) - (options.continuity === true ? 1 : 0));
  const statistic = changed === 0 ? 0 : (gap * gap) / changed;
  const fewer = Math.min(b, c);
  const tail = binomialCumulative(fewer, changed, 0.5);
  const point = Math.exp(binomialLogProbability(fewer, changed, 0.5));
  const z = criticalZ(options);
  const difference = (b - c) / total;
  const error = Math.sqrt(Math.max(0, changed - ((b - c) * (b - c)) / total)) / total;
  return {
    statistic,
    degreesOfFreedom: 1,
    pValue: chiSquareUpperTail(statistic, 1),
    discordant: [b, c],
    exactPValue: Math.min(1, 2 * tail),
    midPValue: b === c ? 1 : 2 * tail - point,
    oddsRatio: discordantOdds(b, c, tailOutside(options)),
    difference: { estimate: difference, lower: difference - z * error, upper: difference + z * error },
  };
}

/** b/c with the exact binomial limits of b among b + c, turned from chances to odds. */
function discordantOdds(b: number, c: number, tail: number): OpenIntervalEstimate {
  if (b + c === 0) return { estimate: undefined, lower: undefined, upper: undefined };
  const low = b === 0 ? 0 : betaQuantile(tail, b, c + 1);
  const high = c === 0 ? 1 : betaQuantileUpper(tail, b + 1, c);
  return {
    estimate: c === 0 ? undefined : b / c,
    lower: low / (1 - low),
    upper: high === 1 ? undefined : high / (1 - high),
  };
}
