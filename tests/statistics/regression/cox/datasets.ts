import { dataset, numbers } from '../../../reference/load.ts';
import type { CoxData } from '../../../../src/statistics/regression/cox/types.ts';

type Row = Readonly<Record<string, string>>;

function freeze(data: CoxData): CoxData {
  for (const column of [...Object.values(data), ...Object.values(data.covariates)]) Object.freeze(column);
  return Object.freeze(data);
}

function complete(name: string, fields: readonly string[]): readonly Row[] {
  return dataset(name).filter(row => fields.every(field => row[field] !== ''));
}

function indicator(rows: readonly Row[], field: string, value: string): number[] {
  return rows.map(row => (row[field] === value ? 1 : 0));
}

function covariates(rows: readonly Row[], fields: readonly string[]): Record<string, number[]> {
  return Object.fromEntries(fields.map(field => [field, numbers(rows, field)]));
}

export function lung(
  fields: readonly string[],
  more: readonly string[] = [],
): CoxData & { rows: readonly Row[] } {
  const rows = complete('lung', [...fields, ...more]);
  const data = {
    time: numbers(rows, 'time'),
    event: indicator(rows, 'status', '2'),
    covariates: covariates(rows, fields),
  };
  freeze(data);
  return { ...data, rows };
}

export function aml(): CoxData {
  const rows = dataset('aml');
  return freeze({
    time: numbers(rows, 'time'),
    event: numbers(rows, 'status'),
    covariates: { nonmaintained: indicator(rows, 'x', 'Nonmaintained') },
  });
}

export function ovarian(): CoxData {
  const rows = dataset('ovarian');
  return freeze({
    time: numbers(rows, 'futime'),
    event: numbers(rows, 'fustat'),
    covariates: covariates(rows, ['age', 'resid.ds', 'rx']),
  });
}

export const CELL_TYPES = ['smallcell', 'adeno', 'large'];

export function veteran(fields: readonly string[], strata = false): CoxData {
  const rows = dataset('veteran');
  const columns: Record<string, number[]> = {};
  for (const field of fields) {
    if (field !== 'celltype') columns[field] = numbers(rows, field);
    else for (const type of CELL_TYPES) columns[type] = indicator(rows, 'celltype', type);
  }
  return freeze({
    time: numbers(rows, 'time'),
    event: numbers(rows, 'status'),
    covariates: columns,
    ...(strata ? { strata: rows.map(row => row['celltype'] as string) } : {}),
  });
}

export function heart(withYear = false): CoxData {
  const rows = dataset('heart');
  const base = covariates(rows, ['age', 'surgery', 'transplant']);
  const times = (a: string, b: string) => numbers(rows, a).map((x, i) => x * (numbers(rows, b)[i] ?? 0));
  return freeze({
    entry: numbers(rows, 'start'),
    time: numbers(rows, 'stop'),
    event: numbers(rows, 'event'),
    cluster: numbers(rows, 'id'),
    covariates: withYear
      ? {
          ...base,
          year: numbers(rows, 'year'),
          'age:transplant': times('age', 'transplant'),
          'surgery:transplant': times('surgery', 'transplant'),
        }
      : base,
  });
}

export function bladder2(options: { strata?: boolean; gap?: boolean; cluster?: boolean } = {}): CoxData {
  const rows = dataset('bladder2');
  const entry = numbers(rows, 'start');
  const stop = numbers(rows, 'stop');
  return freeze({
    ...(options.gap === true ? {} : { entry }),
    time: options.gap === true ? stop.map((t, i) => t - (entry[i] ?? 0)) : stop,
    event: numbers(rows, 'event'),
    ...(options.strata === true ? { strata: numbers(rows, 'enum') } : {}),
    ...(options.cluster === false ? {} : { cluster: numbers(rows, 'id') }),
    covariates: covariates(rows, ['rx', 'size', 'number']),
  });
}

export function bladderMarginal(): CoxData {
  const rows = dataset('bladder');
  return freeze({
    time: numbers(rows, 'stop'),
    event: numbers(rows, 'event'),
    strata: numbers(rows, 'enum'),
    cluster: numbers(rows, 'id'),
    covariates: covariates(rows, ['rx', 'size', 'number']),
  });
}

export function bladderByRecurrence(): CoxData {
  const rows = dataset('bladder');
  const rx = numbers(rows, 'rx');
  return freeze({
    time: numbers(rows, 'stop'),
    event: numbers(rows, 'event'),
    strata: numbers(rows, 'enum'),
    cluster: numbers(rows, 'id'),
    covariates: Object.fromEntries(
      ['1', '2', '3', '4'].map(k => [`rx${k}`, rows.map((row, i) => (row['enum'] === k ? (rx[i] ?? 0) : 0))]),
    ),
  });
}

export function cgd(options: { age?: boolean; strata?: string; gap?: boolean; first?: boolean }): CoxData {
  const rows = dataset('cgd').filter(row => options.first !== true || row['enum'] === '1');
  const entry = numbers(rows, 'tstart');
  const stop = numbers(rows, 'tstop');
  const strata = options.strata;
  return freeze({
    ...(options.gap === true || options.first === true ? {} : { entry }),
    time: options.gap === true ? stop.map((t, i) => t - (entry[i] ?? 0)) : stop,
    event: numbers(rows, 'status'),
    ...(strata === undefined ? {} : { strata: rows.map(row => row[strata] as string) }),
    ...(options.first === true ? {} : { cluster: numbers(rows, 'id') }),
    covariates: {
      treatRifn: indicator(rows, 'treat', 'rIFN-g'),
      ...(options.age === false ? {} : { age: numbers(rows, 'age') }),
    },
  });
}

export function diabetic(fields: readonly string[], grouping: 'cluster' | 'strata' | 'none'): CoxData {
  const rows = dataset('diabetic');
  return freeze({
    time: numbers(rows, 'time'),
    event: numbers(rows, 'status'),
    ...(grouping === 'none' ? {} : { [grouping]: numbers(rows, 'id') }),
    covariates: covariates(rows, fields),
  });
}

export function lungWeights(weight: 'wint' | 'wfrac' | 'replicated', cluster: boolean): CoxData {
  let rows = dataset('lung_weights');
  if (weight === 'replicated') rows = rows.flatMap(row => Array<Row>(Number(row['wint'])).fill(row));
  return freeze({
    time: numbers(rows, 'time'),
    event: indicator(rows, 'status', '2'),
    ...(weight === 'replicated' ? {} : { weight: numbers(rows, weight) }),
    ...(cluster ? { cluster: rows.map((_, i) => i) } : {}),
    covariates: covariates(rows, ['age', 'sex']),
  });
}

export function infert(): CoxData {
  const rows = dataset('infert');
  return freeze({
    time: rows.map(() => 1),
    event: numbers(rows, 'case'),
    strata: numbers(rows, 'stratum'),
    covariates: covariates(rows, ['spontaneous', 'induced']),
  });
}

export function mgus2(cause: '1' | '2'): CoxData {
  const rows = complete('mgus2_cr', ['age', 'mspike']);
  return freeze({
    time: numbers(rows, 'etime'),
    event: indicator(rows, 'event', cause),
    covariates: {
      age: numbers(rows, 'age'),
      male: indicator(rows, 'sex', 'M'),
      mspike: numbers(rows, 'mspike'),
    },
  });
}
