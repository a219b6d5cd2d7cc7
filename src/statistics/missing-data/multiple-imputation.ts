import { StatisticsError } from '../errors.ts';
import { randomStream, type RandomStream } from '../resampling/random.ts';
import { matchPredictedMeans } from './predictive-mean-matching.ts';

/** A column in which undefined, null or NaN stands for missing. */
export type IncompleteColumn = ArrayLike<number | undefined | null>;

export interface ImputationOptions {
  readonly seed: number;
  /** How many completed data sets; default 20. */
  readonly imputations?: number | undefined;
  /** Rounds of the chain before each completed data set is taken; default 10. */
  readonly iterations?: number | undefined;
  /** From how many nearest observed rows a value is drawn; default 5. */
  readonly donors?: number | undefined;
}

export interface MultipleImputation {
  /** One record of complete columns for each completed data set. */
  readonly completed: readonly Readonly<Record<string, Float64Array>>[];
  /** Missing values in each variable. */
  readonly missing: Readonly<Record<string, number>>;
  readonly n: number;
  readonly iterations: number;
  readonly donors: number;
  readonly seed: number;
}

interface Variable {
  readonly name: string;
  readonly values: Float64Array;
  readonly observed: readonly number[];
  readonly missing: readonly number[];
}

/**
 * Completes a table m times by chained equations with predictive mean matching, for ordered or binary categories
 * coded as numbers, and for measurements. Each variable with missing values is in turn regressed on all the others
 * and drawn again (see `matchPredictedMeans`), in the order of fewest missing first, for the number of rounds;
 * chains start from random observed values and are independent.
 *
 * Values are assumed missing at random given the variables in the table: include what predicts both the value and
 * its being missing, and the outcome of the analysis (for a time, the event indicator and the cumulative hazard).
 *
 * Source: van Buuren, Flexible Imputation of Missing Data, 2nd ed., sections 3.4 and 4.5; White & Royston, Stat Med
 * 2009;28:1982 (outcome of a survival analysis).
 *
 * @throws StatisticsError `empty` (no variables, no rows, or a variable never observed), `length`, `not-finite`,
 * `out-of-range` (imputations, iterations or donors below 1), `not-a-whole-number` (seed)
 * @example multipleImputation({ age: [4, 9, undefined, 12], weeks: [8, 10, 11, 15] }, { seed: 1, imputations: 2
 *   }).missing // { age: 1, weeks: 0 }
 */
export function multipleImputation(
  table: Readonly<Record<string, IncompleteColumn>>,
  options: ImputationOptions,
): MultipleImputation {
  const { seed, imputations = 20, iterations = 10, donors = 5 } = options;
  for (const [name, value] of Object.entries({ imputations, iterations, donors })) {
    if (!Number.isInteger(value) || value < 1) {
      throw new StatisticsError('out-of-range', `${name} is ${value}; a whole number from 1 is needed`);
    }
  }
  const variables = readTable(table);
  const n = variables[0]?.values.length ?? 0;
  const random = randomStream(seed);
  const complete = variables.map(({ values, missing }) =>
    missing.length === 0 ? centred(values) : undefined,
  );
  const completed = Array.from({ length: imputations }, () =>
    chain(variables, complete, n, iterations, donors, random),
  );
  const missing = Object.fromEntries(variables.map(({ name, missing }) => [name, missing.length]));
  return { completed, missing, n, iterations, donors, seed };
}

/** @param complete the centred values of the variables that are never missing, which no round changes */
function chain(
  variables: readonly Variable[],
  complete: readonly (Float64Array | undefined)[],
  n: number,
  iterations: number,
  donors: number,
  random: RandomStream,
): Record<string, Float64Array> {
  const columns = variables.map(({ values, observed, missing }) => {
    const filled = Float64Array.from(values);
    for (const row of missing) filled[row] = values[observed[random.below(observed.length)] ?? 0] as number;
    return filled;
  });
  const order = Array.from(variables.keys())
    .filter(place => (variables[place]?.missing.length ?? 0) > 0)
    .sort((a, b) => (variables[a]?.missing.length ?? 0) - (variables[b]?.missing.length ?? 0));
  const intercept = new Float64Array(n).fill(1);
  for (let round = 0; round < iterations; round++) {
    for (const place of order) {
      const { observed, missing } = variables[place] as Variable;
      const others = columns.flatMap((column, j) =>
        j !== place && varies(column, observed) ? [complete[j] ?? centred(column)] : [],
      );
      matchPredictedMeans(
        columns[place] as Float64Array,
        missing,
        observed,
        [intercept, ...others],
        donors,
        random,
      );
    }
  }
  return Object.fromEntries(variables.map(({ name }, j) => [name, columns[j] as Float64Array]));
}

/** Centred at the mean, which spares the normal equations the digits that a large mean would take. */
function centred(column: Float64Array): Float64Array {
  const mean = column.reduce((sum, value) => sum + value, 0) / column.length;
  return column.map(value => value - mean);
}

function varies(column: Float64Array, rows: readonly number[]): boolean {
  const first = column[rows[0] ?? 0];
  return rows.some(row => column[row] !== first);
}

function readTable(table: Readonly<Record<string, IncompleteColumn>>): Variable[] {
  const entries = Object.entries(table);
  const n = entries[0]?.[1].length ?? 0;
  if (n === 0) throw new StatisticsError('empty', 'the table is empty; a variable with rows is needed');
  return entries.map(([name, column]) => {
    if (column.length !== n) {
      throw new StatisticsError('length', `${name} has ${column.length} values; ${n} are needed`);
    }
    const values = new Float64Array(n);
    const observed: number[] = [];
    const missing: number[] = [];
    for (let i = 0; i < n; i++) {
      const value = column[i];
      if (value === undefined || value === null || Number.isNaN(value)) {
        missing.push(i);
        continue;
      }
      if (!Number.isFinite(value)) {
        throw new StatisticsError('not-finite', `${name}[${i}] is ${value}; a finite number is needed`);
      }
      values[i] = value;
      observed.push(i);
    }
    if (observed.length === 0) {
      throw new StatisticsError('empty', `${name} is missing in every row; nothing to impute from`);
    }
    return { name, values, observed, missing };
  });
}
