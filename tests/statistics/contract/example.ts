import type * as s from '../../../src/statistics/index.ts';

export type Cell = number | string | boolean | undefined | null;

/** Named columns, one value a row. */
export type Columns = Readonly<Record<string, ArrayLike<Cell>>>;

/** One function of the published contract, with a small example of its input and the fields promised. */
export interface ContractCall {
  readonly name: keyof typeof s;
  /** What sets this example apart from others of the same function. */
  readonly variant?: string;
  readonly columns: Columns;
  readonly run: (columns: Columns, level?: number) => unknown;
  /** Promised of the result, or of each element where the result is an array. */
  readonly fields: readonly string[];
}

export const time = [5, 3, 8, 3, 9, 12, 7, 5, 14, 2, 9, 6];
export const event = [1, 1, 0, 1, 1, 0, 1, 0, 1, 1, 0, 1];
export const cause = [1, 2, 0, 1, 2, 0, 1, 0, 1, 2, 0, 1];
export const entry = [0, 1, 2, 0, 4, 3, 0, 2, 5, 0, 1, 2];
export const weight = [1, 2, 1, 1, 3, 1, 1, 2, 1, 1, 1, 2];
export const group = ['b', 'a', 'b', 'a', 'c', 'b', 'a', 'c', 'c', 'a', 'b', 'a'];
export const strata = [1, 1, 2, 2, 1, 1, 2, 2, 1, 1, 2, 2];
export const cluster = [7, 7, 3, 4, 4, 1, 1, 9, 9, 8, 2, 2];
export const x = [0.5, 1.5, -0.25, 2, 0.75, -1, 1, 0.25, -0.5, 2.5, 0.1, 0.9];
export const w = [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8];

/** Columns as the function's own type: the calls below are the place where loose columns meet exact types. */
export function shaped(columns: object): never {
  return columns as never;
}

/** Moves the columns named x, w into `covariates`. */
export function withCovariates(columns: Columns): never {
  const { x, w, ...others } = columns;
  return shaped({ ...others, covariates: { x, ...(w === undefined ? {} : { w }) } });
}

export function list(columns: Columns, name: string): ArrayLike<number> {
  return columns[name] as ArrayLike<number>;
}

/** Columns a, b, ... as the rows of a table. */
export function table(columns: Columns): ArrayLike<number>[] {
  return Object.values(columns) as ArrayLike<number>[];
}

export function options(level: number | undefined): { level?: number } {
  return level === undefined ? {} : { level };
}

export const curveFields = [
  'time',
  'atRisk',
  'events',
  'censored',
  'survival',
  'standardError',
  'lower',
  'upper',
  'n',
];
export const coxFields = [
  'terms',
  'covariance',
  'logLikelihood',
  'likelihoodRatioTest',
  'waldTest',
  'scoreTest',
  'concordance',
  'n',
  'events',
  'iterations',
];
export const interval = ['estimate', 'lower', 'upper'];
export const test = ['statistic', 'pValue'];
