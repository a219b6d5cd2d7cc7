import type { OpenIntervalEstimate } from '../confidence-level.ts';
import { hypergeometricLogProbability, leastMarked, mostMarked } from '../distributions/hypergeometric.ts';
import type { Urn } from '../distributions/hypergeometric.ts';
import { StatisticsError } from '../errors.ts';
import { positiveRoot } from '../distributions/root.ts';

/** The possible first cells of a 2 x 2 table with fixed margins, and their log probabilities at odds ratio 1. */
export interface FirstCells {
  readonly least: number;
  readonly logProbability: Float64Array;
}

/** Beyond this the sums take seconds and much memory. */
const MOST_CELLS = 2_000_000;

/** @throws StatisticsError `out-of-range` if there are too many to sum */
export function firstCells(urn: Urn): FirstCells {
  const least = leastMarked(urn);
  const possible = mostMarked(urn) - least + 1;
  if (possible > MOST_CELLS) {
    throw new StatisticsError(
      'out-of-range',
      `the table has ${possible} possible first cells; up to ${MOST_CELLS} can be summed exactly, use chiSquareTest`,
    );
  }
  const logProbability = new Float64Array(possible);
  for (let i = 0; i < logProbability.length; i++) {
    logProbability[i] = hypergeometricLogProbability(least + i, urn);
  }
  return { least, logProbability };
}

/** Mean of the first cell and its tails from a given value on, when the odds ratio is `odds`. */
function atOdds(
  cells: FirstCells,
  odds: number,
  observed: number,
): { mean: number; atLeast: number; atMost: number } {
  const { least, logProbability } = cells;
  const logOdds = Math.log(odds);
  let top = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < logProbability.length; i++) top = Math.max(top, (logProbability[i] ?? 0) + i * logOdds);
  let sum = 0;
  let first = 0;
  let above = 0;
  let below = 0;
  for (let i = 0; i < logProbability.length; i++) {
    const weight = Math.exp((logProbability[i] ?? 0) + i * logOdds - top);
    sum += weight;
    first += i * weight;
    if (least + i >= observed) above += weight;
    if (least + i <= observed) below += weight;
  }
  return { mean: least + first / sum, atLeast: above / sum, atMost: below / sum };
}

/**
 * The conditional maximum-likelihood odds ratio (at which the mean of the first cell is the observed one) and the
 * exact interval (at whose ends a tail from the observed cell on is `tail`). Infinite ends are undefined.
 */
export function conditionalOdds(cells: FirstCells, observed: number, tail: number): OpenIntervalEstimate {
  const least = cells.least;
  const most = least + cells.logProbability.length - 1;
  const solve = (f: (odds: number) => number): number => positiveRoot(f, 1);
  const estimate =
    least === most || observed === most
      ? undefined
      : observed === least
        ? 0
        : solve(odds => observed - atOdds(cells, odds, observed).mean);
  const lower =
    observed === least ? 0 : solve(odds => Math.log(tail) - Math.log(atOdds(cells, odds, observed).atLeast));
  const upper =
    observed === most
      ? undefined
      : solve(odds => Math.log(atOdds(cells, odds, observed).atMost) - Math.log(tail));
  return { estimate, lower, upper };
}
