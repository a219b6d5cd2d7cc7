import type { Finding, FindingTable, Measure } from '../../analyses/finding.ts';
import { formatCount, formatLevel, NOTHING } from '../../wording/format.ts';
import { cellText, measureText } from '../cell-text.ts';
import type { DocumentTable } from '../document.ts';

/** A table of a finding in words; each cell comes from the cell of the finding and nothing else. */
export function findingTable(finding: Finding, table: FindingTable, level?: number): DocumentTable {
  const limited = table.rows.some(row =>
    Object.values(row).some(
      cell => typeof cell === 'object' && 'estimate' in cell && (cell.lower ?? cell.upper) !== undefined,
    ),
  );
  return {
    kind: 'table',
    key: `${finding.key}.${table.key}`,
    caption: table.title,
    columns: table.columns.map(column => {
      const unit = unitOf(column.kind, column.unit);
      return {
        label: column.label,
        ...(unit === undefined ? {} : { unit }),
        align: column.kind === 'text' ? 'left' : 'right',
      };
    }),
    rows: table.rows.map(row => table.columns.map(column => ({ text: cellText(column, row) }))),
    notes: [
      ...table.notes,
      ...(limited && level !== undefined ? [`In brackets: ${formatLevel(level)} intervals.`] : []),
    ],
  };
}

/** Every measure of a finding as a table, for a finding that has no table of its own. */
export function measureTable(finding: Finding, level: number): DocumentTable {
  return {
    kind: 'table',
    key: `${finding.key}.measures`,
    caption: finding.question,
    columns: [
      { label: 'Measure', align: 'left' },
      { label: 'Estimate', unit: `(${formatLevel(level)} interval)`, align: 'right' },
      { label: 'Unit', align: 'left' },
      { label: 'n', align: 'right' },
      { label: 'Infants', align: 'right' },
      { label: 'Events', align: 'right' },
    ],
    rows: finding.measures.map(measure => [
      { text: measure.label },
      { text: measureText(measure) },
      { text: unitOf(measure.kind, measure.unit) ?? '' },
      { text: optionalCount(measure, 'n') },
      { text: optionalCount(measure, 'infants') },
      { text: optionalCount(measure, 'events') },
    ]),
    notes: [],
  };
}

function optionalCount(measure: Measure, field: 'n' | 'infants' | 'events'): string {
  const count = measure[field];
  return count === undefined ? NOTHING : formatCount(count);
}

/** Fractions are printed as percentages, and their unit says so. */
function unitOf(
  kind: FindingTable['columns'][number]['kind'] | Measure['kind'],
  unit?: string,
): string | undefined {
  if (kind === 'proportion' && (unit === undefined || unit === 'of 1')) return '%';
  return unit;
}
