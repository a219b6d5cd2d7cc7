import type { Cell, FindingTable, Measure, TableColumn } from '../analyses/finding.ts';
import {
  formatCount,
  formatInterval,
  formatNumber,
  formatPercentNumber,
  formatPValue,
  formatShare,
  type NumberKind,
  NOTHING,
} from '../wording/format.ts';

type Row = FindingTable['rows'][number];

/** A cell of a finding in words, by the kind of its column; an absent one is a dash. */
export function cellText(column: TableColumn, row: Row): string {
  const cell = row[column.key];
  if (cell === undefined) return NOTHING;
  if (typeof cell === 'string') return cell;
  if (column.kind === 'percent of n') return shareText(column, row, cell);
  if (typeof cell === 'object' && 'count' in cell) return formatShare(cell.count, cell.of);
  if (typeof cell === 'object' && 'median' in cell)
    return quartilesText(cell, column.kind === 'mixed' ? 'time' : numberKind(column.kind, cell.median));
  const own = typeof cell === 'object' ? cell.kind : undefined;
  const kind = own ?? numberKind(column.kind, typeof cell === 'object' ? cell.estimate : cell);
  if (typeof cell === 'object') return formatInterval(cell, kind);
  return column.kind === 'p-value' ? formatPValue(cell) : formatNumber(cell, kind);
}

/** Estimate with interval and unit, or the name of the state that stands in its place. */
export function measureText(measure: Measure): string {
  if (measure.estimate === undefined) return measure.state ?? NOTHING;
  const { estimate, lower, upper } = measure;
  const interval = {
    estimate,
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
  };
  return formatInterval(interval, measure.kind);
}

/** A count over the row's `n` with its percentage; a fraction as a percentage where the row has no `n`. */
function shareText(column: TableColumn, row: Row, cell: Exclude<Cell, string | undefined>): string {
  const n = row[`${column.key}.n`] ?? row.n;
  if (typeof cell === 'number' && typeof n === 'number') return formatShare(cell, n);
  if (typeof cell === 'number') {
    return cell > 1 ? formatCount(cell) : formatPercentNumber(cell);
  }
  if ('count' in cell) return formatShare(cell.count, cell.of);
  return 'median' in cell ? quartilesText(cell, 'proportion') : formatInterval(cell, 'proportion');
}

function quartilesText(cell: Extract<Cell, { readonly median: number }>, kind: NumberKind): string {
  return formatInterval(
    { estimate: cell.median, lower: cell.lowerQuartile, upper: cell.upperQuartile },
    kind,
  );
}

/** What is no whole number is not printed as one, even in a column of counts. */
function numberKind(kind: TableColumn['kind'], value: number): NumberKind {
  if (kind === 'text' || kind === 'p-value') return 'number';
  if (kind === 'percent of n') return 'proportion';
  if (kind === 'count' || kind === 'mixed') return Number.isInteger(value) ? 'count' : 'time';
  return kind;
}
