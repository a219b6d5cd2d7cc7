import { tailOutside } from '../confidence-level.ts';
import type { LevelOption } from '../confidence-level.ts';
import { hypergeometricCumulative, hypergeometricUpperTail } from '../distributions/hypergeometric.ts';
import { StatisticsError } from '../errors.ts';
import { conditionalOdds, firstCells } from './conditional-odds.ts';
import type { FirstCells } from './conditional-odds.ts';
import { countTable, requireFullRows } from './count-table.ts';
import { exactTableProbability } from './exact-table-probability.ts';
import { requireOption } from '../option.ts';

export interface FisherExactOptions extends LevelOption {
  /** Which way the odds ratio is tested, in 2 x 2 tables: away from 1, above it or below it; default two-sided. */
  readonly alternative?: 'two-sided' | 'greater' | 'less';
}

export interface FisherExact {
  readonly pValue: number;
  /** Conditional maximum-likelihood odds ratio of a 2 x 2 table; undefined if infinite or the table is larger. */
  readonly estimate?: number;
  readonly lower?: number;
  readonly upper?: number;
}

/** Tables within this relative distance of the observed one's probability count as equally probable. */
const TIE = 1e-7;

/**
 * Fisher's exact test of independence, all margins fixed. The two-sided p-value is the total probability of the
 * tables no more probable than the observed one, ties within 1e-7. For 2 x 2 tables also the conditional
 * maximum-likelihood odds ratio with its exact interval, from the noncentral hypergeometric distribution.
 *
 * Source: Fisher, Statistical Methods for Research Workers, section 21.02; larger tables: Freeman and Halton,
 * Biometrika 1951;38:141-149, by the network of Mehta and Patel, JASA 1983;78:427-434.
 *
 * @param table array of rows of whole counts; rows are the groups. A column of zeros is an outcome that never
 *   happened: it adds nothing, and a 2 x 2 table with one has p-value 1, a lower limit of 0 and no estimate
 * @returns an end of the interval, or an estimate, that is infinite is absent
 * @throws StatisticsError `empty` for a row of zeros, `one-group`, `length`, `out-of-range` (also for a
 *   table too large to enumerate), `not-a-whole-number`, `unknown-option`, `missing-value`, `not-finite`
 * @example fisherExact([[3, 1], [1, 3]]).pValue // 0.4857
 */
export function fisherExact(
  table: ArrayLike<ArrayLike<number>>,
  options: FisherExactOptions = {},
): FisherExact {
  const { alternative = 'two-sided' } = options;
  requireOption('alternative', alternative, ['two-sided', 'greater', 'less']);
  const tail = tailOutside(options);
  const counts = countTable(table);
  requireFullRows(counts);
  const { rows, columns, cells, rowTotals, columnTotals, total } = counts;
  if (rows > 2 || columns > 2) {
    if (alternative !== 'two-sided') {
      throw new StatisticsError('unknown-option', `a ${rows} x ${columns} table has no direction to test`);
    }
    return { pValue: exactTableProbability(counts, TIE) };
  }
  const urn = { size: total, marked: columnTotals[0] ?? 0, draws: rowTotals[0] ?? 0 };
  const observed = cells[0] ?? 0;
  const possible = firstCells(urn);
  const { estimate, lower, upper } = conditionalOdds(possible, observed, tail);
  const pValue =
    alternative === 'greater'
      ? hypergeometricUpperTail(observed - 1, urn)
      : alternative === 'less'
        ? hypergeometricCumulative(observed, urn)
        : noMoreProbable(possible, observed);
  return {
    pValue,
    ...(estimate === undefined ? {} : { estimate }),
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
  };
}

function noMoreProbable({ least, logProbability }: FirstCells, observed: number): number {
  const limit = (logProbability[observed - least] ?? 0) + TIE;
  let p = 0;
  let other = 0;
  for (let i = 0; i < logProbability.length; i++) {
    const log = logProbability[i] ?? 0;
    if (log <= limit) p += Math.exp(log);
    else other += Math.exp(log);
  }
  return other === 0 ? 1 : Math.min(1, p);
}
