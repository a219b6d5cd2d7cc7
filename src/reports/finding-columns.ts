import type { Cell, Curve, Finding, FindingTable } from '../analyses/finding.ts';
import type { QuarterChart } from '../analyses/quarter-chart.ts';
import type { UnitFunnel } from '../analyses/unit-funnel.ts';
import type { CsvValue } from './csv.ts';
import type { DataTable } from './data-tables.ts';

type Columns = Pick<DataTable, 'header' | 'rows'>;

/** A table of a finding at full precision; what has several numbers, such as an estimate with limits, takes a column for each. */
export function findingTableColumns(table: FindingTable): Columns {
  const parts = table.columns.map(column => [
    ...new Set(table.rows.flatMap(row => cellParts(row[column.key]).map(([part]) => part))),
  ]);
  const header = table.columns.flatMap((column, i) => (parts[i] ?? []).map(part => `${column.key}${part}`));
  const rows = table.rows.map(row =>
    table.columns.flatMap((column, i): readonly CsvValue[] => {
      const values = new Map(cellParts(row[column.key]));
      return (parts[i] ?? []).map(part => values.get(part));
    }),
  );
  return { header, rows };
}

/** The numbers of a cell, each with the ending of its column. */
function cellParts(cell: Cell): readonly (readonly [string, CsvValue])[] {
  if (typeof cell !== 'object') return [['', cell]];
  if ('count' in cell) {
    return [
      ['', cell.count],
      ['_of', cell.of],
    ];
  }
  if ('median' in cell) {
    return [
      ['', cell.median],
      ['_lower_quartile', cell.lowerQuartile],
      ['_upper_quartile', cell.upperQuartile],
    ];
  }
  return [
    ['', cell.estimate],
    ['_lower', cell.lower],
    ['_upper', cell.upper],
  ];
}

/** Every measure of a finding, one a row. */
export function measureColumns(finding: Finding): Columns {
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
  return {
    header,
    rows: finding.measures.map(measure => [
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
  };
}

/** The steps of every curve of a finding. */
export function curveColumns(curves: readonly Curve[]): Columns {
  return {
    header: ['curve', 'group', 'measure', 'time', 'time_unit', 'estimate', 'lower', 'upper'],
    rows: curves.flatMap(curve =>
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
  };
}

/** The tables under the axes of every curve of a finding. */
export function riskTableColumns(curves: readonly Curve[]): Columns {
  return {
    header: ['curve', 'group', 'time', 'time_unit', 'at_risk', 'events', 'other_ends', 'censored'],
    rows: curves.flatMap(({ key, group, timeUnit, riskTable }) =>
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
  };
}

/** The points of every control chart of a finding, with their limits and the rules that fired there. */
export function quarterChartColumns(charts: readonly QuarterChart[]): Columns {
  return {
    header: ['chart', 'quarter', 'unit', 'count', 'size', 'value', 'centre', 'lower', 'upper', 'signals'],
    rows: charts.flatMap(chart =>
      chart.points.map(({ place, count, size, value, lower, upper }) => [
        chart.key,
        chart.quarters[place],
        chart.unit,
        count,
        size,
        value,
        chart.centre,
        lower,
        upper,
        [...chart.signals, ...chart.shifts]
          .filter(signal => signal.place === place)
          .map(({ rule }) => rule)
          .join('; ') || undefined,
      ]),
    ),
  };
}

/** Every site and clinician of every funnel of a finding, by size, with the limits at that size. */
export function funnelColumns(funnels: readonly UnitFunnel[]): Columns {
  return {
    header: [
      'standard',
      'kind',
      'code',
      'count',
      'n',
      'share',
      'centre',
      'lower_95',
      'upper_95',
      'lower_99_8',
      'upper_99_8',
      'outside',
    ],
    rows: funnels.flatMap(funnel =>
      funnel.units.map(unit => [
        funnel.key,
        unit.kind,
        unit.code,
        unit.count,
        unit.n,
        unit.value,
        funnel.centre,
        unit.inner.lower,
        unit.inner.upper,
        unit.outer.lower,
        unit.outer.upper,
        unit.beyond === undefined ? undefined : `${unit.beyond.limit}, ${unit.beyond.side}`,
      ]),
    ),
  };
}
