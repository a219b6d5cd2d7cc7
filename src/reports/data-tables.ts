import type { CsvValue } from './csv.ts';
import {
  curveColumns,
  findingTableColumns,
  funnelColumns,
  measureColumns,
  quarterChartColumns,
  riskTableColumns,
} from './finding-columns.ts';
import type { FindingsInput } from './findings-document.ts';

/** A table at full precision, as it is published for reckoning on: each value a number, a text or nothing. */
export interface DataTable {
  /** Unique in a report; also its file name and the name of its sheet. */
  readonly name: string;
  readonly header: readonly string[];
  readonly rows: readonly (readonly CsvValue[])[];
}

/** Every table of a report: who came in, what was wrong with the data, and for each finding its tables, measures and curves. */
export function dataTables({ findings, flow, provenance }: FindingsInput): readonly DataTable[] {
  return [
    {
      name: 'participants',
      header: ['key', 'step', 'depth', 'feet', 'infants'],
      rows: flow.map(line => [line.key, line.label, line.depth, line.feet, line.infants]),
    },
    {
      name: 'data-problems',
      header: ['file', 'problem', 'row', 'count'],
      rows: provenance.problems.map(({ file, kind, severity, count }) => [file, kind, severity, count]),
    },
    ...findings.flatMap(finding => [
      ...finding.tables.map(table => ({
        name: finding.key === table.key ? table.key : `${finding.key}.${table.key}`,
        ...findingTableColumns(table),
      })),
      ...(finding.measures.length > 0
        ? [{ name: `${finding.key}.measures`, ...measureColumns(finding) }]
        : []),
      ...((finding.quarterCharts ?? []).length > 0
        ? [{ name: `${finding.key}.charts`, ...quarterChartColumns(finding.quarterCharts ?? []) }]
        : []),
      ...((finding.funnels ?? []).length > 0
        ? [{ name: `${finding.key}.funnels`, ...funnelColumns(finding.funnels ?? []) }]
        : []),
      ...(finding.curves.length > 0
        ? [
            { name: `${finding.key}.curves`, ...curveColumns(finding.curves) },
            { name: `${finding.key}.risk-tables`, ...riskTableColumns(finding.curves) },
          ]
        : []),
    ]),
  ];
}
