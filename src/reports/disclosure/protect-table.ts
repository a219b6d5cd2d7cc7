import type { Cell, Finding, FindingTable, Measure, TableColumn } from '../../analyses/finding.ts';
import { type HiddenCount, WITHHELD } from '../../wording/hidden-count.ts';
import {
  headOf,
  isCountCell,
  isShare,
  isTimeColumn,
  plainHead,
  rowCountsInfants,
  tablePath,
} from './count-sites.ts';
import { type Hiding, isHiddenHeight } from './hiding.ts';
import { isSmallShare } from './policy.ts';

type Row = FindingTable['rows'][number];

/** A table with hidden counts by name, and without what is reckoned from them. */
export function protectTable(
  finding: Finding,
  table: FindingTable,
  hiding: Hiding,
  shown: readonly Measure[],
): FindingTable {
  const told = new Set(shown.flatMap(({ estimate }) => (estimate === undefined ? [] : [estimate])));
  const measured = new Set(
    finding.measures.flatMap(({ estimate }) => (estimate === undefined ? [] : [estimate])),
  );
  const nameOf = (row: Row, r: number, column: TableColumn): HiddenCount | undefined => {
    const cell = row[column.key];
    const counted = rowCountsInfants(headOf(table, row)) ? 'infants' : column.key;
    const path = tablePath(finding, table, r, column.key, counted);
    if (isCountCell(column, cell)) return hiding.nameAt(path);
    if (!isShare(cell)) return undefined;
    const [count, of] = [hiding.nameAt(`${path}.count`), hiding.nameAt(`${path}.of`)];
    return count ?? (of === undefined ? undefined : WITHHELD);
  };
  const countAlone = (row: Row, r: number, column: TableColumn): number | undefined => {
    const cell = row[column.key];
    const counted = rowCountsInfants(headOf(table, row)) ? 'infants' : column.key;
    const path = tablePath(finding, table, r, column.key, counted);
    return isShare(cell) && hiding.nameAt(`${path}.count`) === undefined ? cell.count : undefined;
  };
  const names = table.rows.map(
    (row, r) => new Map(table.columns.map(column => [column.key, nameOf(row, r, column)])),
  );
  // A column whose feet are hidden has nothing to reckon from.
  const feet = table.rows.findIndex(row => plainHead(headOf(table, row)).toLowerCase() === 'feet');
  const rows = table.rows.map((row, r): Row => {
    const own = names[r];
    const fewInRow = table.columns.some(column => {
      const name = own?.get(column.key);
      return (
        name !== undefined && !isShare(row[column.key]) && (name !== WITHHELD || column.key !== 'infants')
      );
    });
    const cells = table.columns.map((column): readonly [string, Cell] => {
      const cell = row[column.key];
      const name = own?.get(column.key);
      // Of a share whose denominator is hidden, the count can stand alone.
      if (name !== undefined) return [column.key, countAlone(row, r, column) ?? name];
      if (!isReckoned(column, cell)) return [column.key, cell];
      const estimate = estimateOf(cell);
      // The same number as a measure: shown where that is shown.
      if (estimate !== undefined && estimate !== 0 && estimate !== 1 && measured.has(estimate)) {
        return [column.key, told.has(estimate) ? cell : WITHHELD];
      }
      const gone =
        fewInRow ||
        (feet >= 0 && names[feet]?.get(column.key) !== undefined) ||
        isHiddenHeight(hiding, estimate) ||
        isSmallEstimate(column, cell, sizeOf(table, row), hiding);
      return [column.key, gone ? WITHHELD : cell];
    });
    return {
      ...Object.fromEntries(Object.keys(row).map(key => [key, row[key]])),
      ...Object.fromEntries(cells),
    };
  });
  return { ...table, rows };
}

/** A number that rests on counts without being one. */
function isReckoned(column: TableColumn, cell: Cell): boolean {
  if (cell === undefined || typeof cell === 'string' || isShare(cell)) return false;
  if (typeof cell === 'object') return true;
  return !isCountCell(column, cell) && column.kind !== 'text' && !isTimeColumn(column.key);
}

function estimateOf(cell: Cell): number | undefined {
  if (typeof cell === 'number') return cell;
  return typeof cell === 'object' && 'estimate' in cell ? cell.estimate : undefined;
}

function isSmallEstimate(
  column: TableColumn,
  cell: Cell,
  n: number | undefined,
  { policy }: Hiding,
): boolean {
  const estimate = estimateOf(cell);
  const share = column.kind === 'proportion' || column.kind === 'percent of n';
  if (!share || estimate === undefined || n === undefined || estimate < 0 || estimate > 1) return false;
  return isSmallShare(estimate, n, policy);
}

/** The feet that a row speaks of: its first count. */
function sizeOf(table: FindingTable, row: Row): number | undefined {
  if (typeof row.n === 'number') return row.n;
  for (const column of table.columns) {
    const cell = row[column.key];
    if (isCountCell(column, cell)) return cell;
  }
  return undefined;
}
