import { finiteColumn, finiteColumnOf, isConstant, requireArgument, requireComparable } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { householderQr, solveUpper } from '../linear-algebra/qr.ts';

/** The design of a regression: one column a term, the intercept first where there is one. */
export interface ModelColumns {
  readonly names: readonly string[];
  readonly columns: readonly Float64Array[];
}

/** A column whose part not explained by the columns before it is shorter than this share of it counts as collinear. */
const COLLINEAR = 1e-11;

/**
 * Checks the covariates of a model and lays them out as columns.
 *
 * @throws StatisticsError `length`, `missing-value`, `not-finite`; `constant-covariate` for one that does not vary
 * beside an intercept; `collinear-covariates` naming a covariate that others determine, or where there are more
 * terms than rows; `out-of-range` for a covariate named `intercept` beside the model's own
 */
export function modelColumns(
  covariates: Readonly<Record<string, ArrayLike<number>>>,
  rows: number,
  intercept: boolean,
): ModelColumns {
  requireArgument('covariates', covariates);
  const names: string[] = [];
  const columns: Float64Array[] = [];
  if (intercept) {
    names.push('intercept');
    columns.push(new Float64Array(rows).fill(1));
  }
  for (const [name, values] of Object.entries(covariates)) {
    const column = finiteColumnOf(`covariates.${name}`, values, rows);
    if (intercept && name === 'intercept') {
      throw new StatisticsError('out-of-range', 'a covariate is named intercept; the model has its own');
    }
    if (isConstant(column, intercept ? column[0] : 0)) {
      throw new StatisticsError(
        'constant-covariate',
        `covariates.${name} is ${column[0]} in every row; a covariate must vary`,
      );
    }
    names.push(name);
    columns.push(column);
  }
  if (columns.length === 0) {
    throw new StatisticsError('empty', 'covariates is empty and there is no intercept; nothing to estimate');
  }
  if (columns.length > rows) {
    throw new StatisticsError(
      'collinear-covariates',
      `covariates: ${columns.length} terms cannot be estimated from ${rows} rows`,
    );
  }
  refuseCollinear(names, columns);
  return { names, columns };
}

/** Weights: finite and above 0, one a row; all 1 where none are given. */
export function positiveWeights(weight: ArrayLike<number> | undefined, rows: number): Float64Array {
  if (weight === undefined) return new Float64Array(rows).fill(1);
  const column = finiteColumnOf('weight', weight, rows);
  for (const [i, value] of column.entries()) {
    if (!(value > 0)) {
      throw new StatisticsError('out-of-range', `weight[${i}] is ${value}; a number above 0 is needed`);
    }
  }
  requireComparable('weight', column);
  return column;
}

/** An offset: finite, one a row; all 0 where none is given. */
export function offsetColumn(offset: ArrayLike<number> | undefined, rows: number): Float64Array {
  return offset === undefined ? new Float64Array(rows) : finiteColumnOf('offset', offset, rows);
}

/** The outcome as finite doubles. */
export function outcomeColumn(outcome: ArrayLike<number>): Float64Array {
  return finiteColumn('outcome', outcome);
}

function refuseCollinear(names: readonly string[], columns: readonly Float64Array[]): void {
  // Each column is brought to about unit size first, so that units of measurement do not matter.
  const scaled = columns.map(column => {
    let largest = 0;
    for (let i = 0; i < column.length; i++) largest = Math.max(largest, Math.abs(column[i] as number));
    const copy = new Float64Array(column.length);
    if (largest > 0) for (let i = 0; i < copy.length; i++) copy[i] = (column[i] as number) / largest;
    return copy;
  });
  const qr = householderQr(scaled);
  for (const [j, independence] of qr.independence.entries()) {
    if (independence > COLLINEAR) continue;
    const before = { ...qr, columns: qr.columns.slice(0, j) };
    const loading = solveUpper(before, qr.columns[j] as Float64Array);
    const partners = names.slice(0, j).filter((_, place) => Math.abs(loading[place] ?? 0) > 1e-6);
    const others = partners.length > 0 ? partners.join(', ') : 'the others';
    throw new StatisticsError(
      'collinear-covariates',
      `covariates.${names[j] ?? j} is determined by ${others}; leave one out`,
    );
  }
}
