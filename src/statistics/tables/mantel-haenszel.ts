import { criticalZ } from '../confidence-level.ts';
import type { LevelOption, OpenIntervalEstimate, TestResult } from '../confidence-level.ts';
import { chiSquareUpperTail } from '../distributions/chi-square.ts';
import { StatisticsError } from '../errors.ts';
import { breslowDay } from './breslow-day.ts';
import type { BreslowDayTest } from './breslow-day.ts';
import { countTable } from './count-table.ts';

export interface MantelHaenszelOptions extends LevelOption {
  /** Takes 1/2 off the absolute summed difference, but not past 0; default false. */
  readonly continuity?: boolean;
}

/** One 2 x 2 table: first row a and b, second row c and d; the first column counts the event. */
export interface Stratum {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly n: number;
}

export interface MantelHaenszel extends OpenIntervalEstimate, TestResult {
  readonly degreesOfFreedom: number;
  /** Common risk ratio, first row over second, with its interval. */
  readonly riskRatio: OpenIntervalEstimate;
  /** Test that the odds ratio is the same in all strata; absent if fewer than two strata can tell. */
  readonly breslowDay?: BreslowDayTest;
  readonly strata: number;
}

/**
 * Stratified 2 x 2 tables: the common odds ratio (`estimate`, the sum of a d/n over the sum of b c/n) with the
 * Robins-Breslow-Greenland interval, the conditional chi-square test that it is 1, the common risk ratio, and
 * the Breslow-Day test of homogeneity. A stratum with an empty margin adds nothing to the test.
 *
 * Source: Mantel and Haenszel, JNCI 1959;22:719-748; Robins, Breslow and Greenland, Biometrics 1986;42:311-323;
 * risk ratio: Greenland and Robins, Biometrics 1985;41:55-68.
 *
 * @param tables one 2 x 2 table a stratum, each an array of rows; the first column counts the event
 * @throws StatisticsError `empty` without strata or for a stratum that counts nothing, `length` unless all are
 *   2 x 2, `no-events` if no stratum can tell the rows apart, `out-of-range`, `not-a-whole-number`
 * @example mantelHaenszel([[[3, 1], [1, 3]], [[2, 2], [1, 5]]]).estimate // 6.538
 */
export function mantelHaenszel(
  tables: ArrayLike<ArrayLike<ArrayLike<number>>>,
  options: MantelHaenszelOptions = {},
): MantelHaenszel {
  const strata = readStrata(tables);
  const z = criticalZ(options);
  let difference = 0;
  let variance = 0;
  for (const { a, b, c, d, n } of strata) {
    if (n < 2) continue;
    difference += a - ((a + b) * (a + c)) / n;
    variance += ((a + b) * (c + d) * (a + c) * (b + d)) / (n * n * (n - 1));
  }
  if (variance === 0) {
    throw new StatisticsError('no-events', 'every stratum has an empty margin; rows cannot be compared');
  }
  const gap = Math.max(0, Math.abs(difference) - (options.continuity === true ? 0.5 : 0));
  const statistic = (gap * gap) / variance;
  const odds = commonOddsRatio(strata, z);
  const homogeneity = odds.estimate === undefined ? undefined : breslowDay(strata, odds.estimate);
  return {
    ...odds,
    statistic,
    degreesOfFreedom: 1,
    pValue: chiSquareUpperTail(statistic, 1),
    riskRatio: commonRiskRatio(strata, z),
    ...(homogeneity === undefined ? {} : { breslowDay: homogeneity }),
    strata: strata.length,
  };
}

function readStrata(tables: ArrayLike<ArrayLike<ArrayLike<number>>>): readonly Stratum[] {
  if (tables.length === 0) throw new StatisticsError('empty', 'tables is empty; one stratum is needed');
  return Array.from(tables, (table, i) => {
    const { rows, columns, cells, total } = countTable(table, `tables[${i}]`);
    if (rows !== 2 || columns !== 2) {
      throw new StatisticsError('length', `tables[${i}] is ${rows} x ${columns}; 2 x 2 is needed`);
    }
    if (total === 0) throw new StatisticsError('empty', `tables[${i}] counts nothing; leave it out`);
    const [a = 0, b = 0, c = 0, d = 0] = cells;
    return { a, b, c, d, n: total };
  });
}

function commonOddsRatio(strata: readonly Stratum[], z: number): OpenIntervalEstimate {
  let concordant = 0;
  let discordant = 0;
  let pr = 0;
  let mixed = 0;
  let qs = 0;
  for (const { a, b, c, d, n } of strata) {
    const r = (a * d) / n;
    const s = (b * c) / n;
    const p = (a + d) / n;
    const q = (b + c) / n;
    concordant += r;
    discordant += s;
    pr += p * r;
    mixed += p * s + q * r;
    qs += q * s;
  }
  const estimate = discordant === 0 ? undefined : concordant / discordant;
  if (estimate === undefined || estimate === 0) return { estimate, lower: undefined, upper: undefined };
  const error = Math.sqrt(
    pr / (2 * concordant * concordant) +
      mixed / (2 * concordant * discordant) +
      qs / (2 * discordant * discordant),
  );
  return { estimate, lower: estimate * Math.exp(-z * error), upper: estimate * Math.exp(z * error) };
}

function commonRiskRatio(strata: readonly Stratum[], z: number): OpenIntervalEstimate {
  let first = 0;
  let second = 0;
  let spread = 0;
  for (const { a, b, c, d, n } of strata) {
    first += (a * (c + d)) / n;
    second += (c * (a + b)) / n;
    spread += ((a + b) * (c + d) * (a + c) - a * c * n) / (n * n);
  }
  const estimate = second === 0 ? undefined : first / second;
  if (estimate === undefined || estimate === 0) return { estimate, lower: undefined, upper: undefined };
  const error = Math.sqrt(spread / (first * second));
  return { estimate, lower: estimate * Math.exp(-z * error), upper: estimate * Math.exp(z * error) };
}
