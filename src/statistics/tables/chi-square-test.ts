import type { TestResult } from '../confidence-level.ts';
import { chiSquareUpperTail } from '../distributions/chi-square.ts';
import { countTable, requireFullMargins } from './count-table.ts';

export interface ChiSquareTestOptions {
  /** Yates's correction, in 2 x 2 tables only: 1/2 off each difference, but not past 0; default false. */
  readonly continuity?: boolean;
}

export interface ChiSquareTest extends TestResult {
  readonly degreesOfFreedom: number;
  readonly n: number;
  /** Counts expected were rows and columns independent, as rows. */
  readonly expected: readonly (readonly number[])[];
  /** (observed - expected) over its standard error under independence, as rows. */
  readonly adjustedResiduals: readonly (readonly number[])[];
  /** Likelihood-ratio statistic on the same degrees of freedom. */
  readonly likelihoodRatio: TestResult;
  /** Square root of statistic / (n (smaller dimension - 1)), from the uncorrected statistic. */
  readonly cramersV: number;
}

/**
 * Pearson's chi-square test of independence in a table of counts: the sum of (observed - expected)^2 / expected on
 * (rows - 1)(columns - 1) degrees of freedom.
 *
 * Source: Pearson 1900, Fisher 1922; residuals: Haberman, Biometrics 1973;29:205-220; correction: Yates 1934.
 *
 * @param table array of rows of whole counts
 * @throws StatisticsError `empty` for a row or column of zeros, `one-group`, `length`, `out-of-range`,
 *   `not-a-whole-number`, `missing-value`, `not-finite`
 * @example chiSquareTest([[10, 20], [20, 10]]).statistic // 6.667
 */
export function chiSquareTest(
  table: ArrayLike<ArrayLike<number>>,
  options: ChiSquareTestOptions = {},
): ChiSquareTest {
  const counts = countTable(table);
  requireFullMargins(counts);
  const { rows, columns, cells, rowTotals, columnTotals, total } = counts;
  const degreesOfFreedom = (rows - 1) * (columns - 1);
  const corrected = options.continuity === true && degreesOfFreedom === 1;
  const expected: number[][] = [];
  const adjustedResiduals: number[][] = [];
  let plain = 0;
  let yates = 0;
  let ratio = 0;
  for (let i = 0; i < rows; i++) {
    const row = rowTotals[i] ?? 0;
    const expectedRow: number[] = [];
    const residualRow: number[] = [];
    for (let j = 0; j < columns; j++) {
      const column = columnTotals[j] ?? 0;
      const observed = cells[i * columns + j] ?? 0;
      const mean = (row / total) * column;
      const difference = observed - mean;
      const reduced = Math.max(0, Math.abs(difference) - 0.5);
      plain += (difference * difference) / mean;
      yates += (reduced * reduced) / mean;
      if (observed > 0) ratio += 2 * observed * Math.log(observed / mean);
      expectedRow.push(mean);
      residualRow.push(difference / Math.sqrt(mean * (1 - row / total) * (1 - column / total)));
    }
    expected.push(expectedRow);
    adjustedResiduals.push(residualRow);
  }
  const statistic = corrected ? yates : plain;
  const deviance = Math.max(0, ratio);
  return {
    statistic,
    degreesOfFreedom,
    pValue: chiSquareUpperTail(statistic, degreesOfFreedom),
    n: total,
    expected,
    adjustedResiduals,
    likelihoodRatio: {
      statistic: deviance,
      degreesOfFreedom,
      pValue: chiSquareUpperTail(deviance, degreesOfFreedom),
    },
    cramersV: Math.sqrt(plain / (total * (Math.min(rows, columns) - 1))),
  };
}
