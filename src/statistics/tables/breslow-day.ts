import type { TestResult } from '../confidence-level.ts';
import { chiSquareUpperTail } from '../distributions/chi-square.ts';
import type { Stratum } from './mantel-haenszel.ts';

export interface BreslowDayTest extends TestResult {
  readonly degreesOfFreedom: number;
  /** The same with Tarone's correction for the common odds ratio not being the most likely one. */
  readonly tarone: TestResult;
}

/**
 * Test that 2 x 2 tables share one odds ratio: the first cells against those expected under the common odds ratio
 * with each table's margins, squared over their variances, on one less than the number of tables. Tables with an
 * empty margin say nothing and are left out.
 *
 * Source: Breslow and Day, Statistical Methods in Cancer Research I, 1980, 4.30; Tarone, Biometrika 1985;72:91-95.
 *
 * @returns undefined if fewer than two tables can tell, or the odds ratio is 0
 */
export function breslowDay(strata: readonly Stratum[], oddsRatio: number): BreslowDayTest | undefined {
  if (oddsRatio <= 0) return undefined;
  let statistic = 0;
  let excess = 0;
  let variances = 0;
  let tables = 0;
  for (const { a, b, c, d } of strata) {
    const row = a + b;
    const column = a + c;
    const rest = b + d;
    if (row === 0 || c + d === 0 || column === 0 || rest === 0) continue;
    tables += 1;
    const fitted = expectedFirst(row, column, c + d, oddsRatio);
    const variance =
      1 / (1 / fitted + 1 / (row - fitted) + 1 / (column - fitted) + 1 / (c + d - column + fitted));
    statistic += ((a - fitted) * (a - fitted)) / variance;
    excess += a - fitted;
    variances += variance;
  }
  if (tables < 2) return undefined;
  const degreesOfFreedom = tables - 1;
  const corrected = Math.max(0, statistic - (excess * excess) / variances);
  return {
    statistic,
    degreesOfFreedom,
    pValue: chiSquareUpperTail(statistic, degreesOfFreedom),
    tarone: {
      statistic: corrected,
      degreesOfFreedom,
      pValue: chiSquareUpperTail(corrected, degreesOfFreedom),
    },
  };
}

/** The first cell that gives the odds ratio with these margins: the root of a quadratic that fits the table. */
function expectedFirst(row: number, column: number, otherRow: number, oddsRatio: number): number {
  const square = 1 - oddsRatio;
  const linear = otherRow - column + oddsRatio * (row + column);
  const constant = -oddsRatio * row * column;
  // The root without cancellation; it is also right at an odds ratio of 1, where the equation is linear.
  return (-2 * constant) / (linear + Math.sqrt(linear * linear - 4 * square * constant));
}
