import type { Curve, Finding, FindingTable } from '../analyses/finding.ts';
import { type CsvValue, csvText } from './csv.ts';

/** A table of a finding at full precision; an estimate with limits takes three columns. */
export function findingTableCsv(table: FindingTable): string {
  const limited = table.columns.map(column => table.rows.some(row => typeof row[column.key] === 'object'));
  const header = table.columns.flatMap((column, i) =>
    limited[i] === true ? [column.key, `${column.key}_lower`, `${column.key}_upper`] : [column.key],
  );
  const rows = table.rows.map(row =>
    table.columns.flatMap((column, i): readonly CsvValue[] => {
      const cell = row[column.key];
      if (limited[i] !== true) return [typeof cell === 'object' ? cell.estimate : cell];
      if (typeof cell === 'object') return [cell.estimate, cell.lower, cell.upper];
      return [cell, undefined, undefined];
    }),
  );
  return csvText(header, rows);
}

/** Every measure of a finding, one a row. */
export function measuresCsv(finding: Finding): string {
  const header = [
    'key',
    'label',
    'group',
    'kind',
    'unit',
    'estimate',
    'lower',
    'upper',
    'state',
    'n',
    'infants',
    'events',
  ];
  return csvText(
    header,
    finding.measures.map(measure => [
      measure.key,
      measure.label,
      measure.group,
      measure.kind,
      measure.unit,
      measure.estimate,
      measure.lower,
      measure.upper,
      measure.state,
      measure.n,
      measure.infants,
      measure.events,
    ]),
  );
}

/** The steps of every curve of a finding. */
export function curvesCsv(curves: readonly Curve[]): string {
  return csvText(
    ['curve', 'group', 'measure', 'time', 'time_unit', 'estimate', 'lower', 'upper'],
    curves.flatMap(curve =>
      curve.time.map((time, i) => [
        curve.key,
        curve.group,
        curve.measure,
        time,
        curve.timeUnit,
        curve.estimate[i],
        curve.lower[i],
        curve.upper[i],
      ]),
    ),
  );
}

/** The tables under the axes of every curve of a finding. */
export function riskTablesCsv(curves: readonly Curve[]): string {
  return csvText(
    ['curve', 'group', 'time', 'time_unit', 'at_risk', 'events', 'other_ends', 'censored'],
    curves.flatMap(({ key, group, timeUnit, riskTable }) =>
      riskTable.time.map((time, i) => [
        key,
        group,
        time,
        timeUnit,
        riskTable.atRisk[i],
        riskTable.events[i],
        riskTable.competing[i],
        riskTable.censored[i],
      ]),
    ),
  );
}
