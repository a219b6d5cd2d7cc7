import {
  codedLabels,
  eventColumn,
  finiteColumn,
  finiteColumnOf,
  isConstant,
  refuseUnread,
  requireArgument,
  requireComparable,
} from '../../columns.ts';
import { StatisticsError } from '../../errors.ts';
import type { CoxColumns, CoxData, CoxLabels } from './types.ts';

/**
 * Checks the columns of a survival regression and copies them.
 *
 * @throws StatisticsError naming the column and the position (or the covariate) of what cannot be used
 */
export function checkedColumns(data: CoxData): CoxColumns {
  const rows = checkedRows(data);
  return { ...rows, covariates: covariateColumns(data.covariates, rows.time.length) };
}

/** As `checkedColumns`, without covariates. */
export function checkedRows(data: Omit<CoxData, 'covariates'>): Omit<CoxColumns, 'covariates'> {
  refuseUnread(data, ['entry', 'weight', 'strata', 'cluster', 'offset']);
  const time = finiteColumn('time', data.time);
  const n = time.length;
  const event = eventColumn('event', data.event, n);
  const entry = data.entry === undefined ? undefined : finiteColumnOf('entry', data.entry, n);
  if (entry === undefined) requireNotNegative(time);
  else requireEntryBeforeExit(entry, time);
  const weight = data.weight === undefined ? undefined : finiteColumnOf('weight', data.weight, n);
  if (weight !== undefined) {
    requirePositive('weight', weight);
    requireComparable('weight', weight);
  }
  return {
    time,
    event,
    entry,
    weight,
    offset: data.offset === undefined ? undefined : finiteColumnOf('offset', data.offset, n),
    strata: data.strata === undefined ? undefined : codedLabels('strata', data.strata, n),
    cluster: data.cluster === undefined ? undefined : codedLabels('cluster', data.cluster, n),
  };
}

/** @throws StatisticsError `empty` without covariates, `constant-covariate` for one that does not vary */
export function covariateColumns(
  covariates: Readonly<Record<string, ArrayLike<number>>>,
  n: number,
): Record<string, Float64Array> {
  requireArgument('covariates', covariates);
  const columns: Record<string, Float64Array> = {};
  for (const [name, values] of Object.entries(covariates)) {
    const column = finiteColumnOf(`covariates.${name}`, values, n);
    if (isConstant(column)) {
      throw new StatisticsError(
        'constant-covariate',
        `covariates.${name} is ${column[0]} in every row; a covariate must vary to have a coefficient`,
      );
    }
    columns[name] = column;
  }
  if (Object.keys(columns).length === 0) {
    throw new StatisticsError('empty', 'covariates is empty; at least one covariate is needed');
  }
  return columns;
}

export function requireNotNegative(time: Float64Array): void {
  for (let i = 0; i < time.length; i++) {
    if ((time[i] as number) < 0) {
      throw new StatisticsError('out-of-range', `time[${i}] is ${time[i]}; 0 or more is needed`);
    }
  }
}

function requirePositive(name: string, values: Float64Array): void {
  for (let i = 0; i < values.length; i++) {
    if (!((values[i] as number) > 0)) {
      throw new StatisticsError('out-of-range', `${name}[${i}] is ${values[i]}; more than 0 is needed`);
    }
  }
}

function requireEntryBeforeExit(entry: Float64Array, time: Float64Array): void {
  for (let i = 0; i < time.length; i++) {
    if (!((entry[i] as number) < (time[i] as number))) {
      throw new StatisticsError(
        'entry-not-before-exit',
        `entry[${i}] is ${entry[i]} and time[${i}] is ${time[i]}; entry must be before exit`,
      );
    }
  }
}

/** @throws StatisticsError `one-group`: within one cluster the residuals add up to 0, whatever the error */
export function requireClusters(cluster: CoxLabels): void {
  if (cluster.labels.length > 1) return;
  throw new StatisticsError(
    'one-group',
    `cluster is ${String(cluster.labels[0])} in every row; a robust covariance needs at least two clusters`,
  );
}
