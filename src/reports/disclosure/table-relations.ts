import type { Finding, FindingTable } from '../../analyses/finding.ts';
import type { ModelDraft } from './count-model.ts';
import { headOf, isCountCell, isShare, plainHead, rowCountsInfants, tablePath } from './count-sites.ts';
import { relateRuns } from './runs.ts';

/** What can be added up along the rows and down the columns of a table, and what its shares leave over. */
export function relateTable(draft: ModelDraft, finding: Finding, table: FindingTable): void {
  const path = (r: number, column: string): string => {
    const row = table.rows[r] ?? {};
    const counted = rowCountsInfants(headOf(table, row)) ? 'infants' : column;
    return tablePath(finding, table, r, column, counted);
  };
  const count = (r: number, column: string): number | undefined =>
    draft.cell(path(r, column)) ?? draft.cell(`${path(r, column)}.count`);
  const whole = (r: number, column: string) => draft.cell(`${path(r, column)}.of`);
  const columns = table.columns.map(({ key }) => key);
  for (const [r, row] of table.rows.entries()) {
    for (const column of table.columns) {
      const cell = row[column.key];
      if (isShare(cell))
        draft.rest(whole(r, column.key), count(r, column.key), `${path(r, column.key)}.rest`);
      if (column.kind !== 'percent of n' || !isCountCell(column, cell)) continue;
      const n = count(r, `${column.key}.n`) ?? count(r, 'n');
      draft.rest(n, count(r, column.key), `${path(r, column.key)}.rest`);
    }
    // A total can stand anywhere in a row, such as the overdue ones before those of each phase.
    const counted = columns.filter(column => count(r, column) !== undefined);
    relateRuns(
      draft,
      counted.map(column => count(r, column)),
      () => true,
    );
    relateRuns(
      draft,
      counted.map(column => whole(r, column)),
    );
    // Shares of one denominator can part it, such as the bands of a site.
    const shares = counted.filter(column => whole(r, column) !== undefined);
    const [first] = shares;
    if (first !== undefined && shares.length > 1) {
      const parts = shares.map(column => count(r, column));
      draft.sum(whole(r, first), parts);
      draft.sum(count(r, 'feet') ?? count(r, 'n'), parts);
    }
    draft.pair(count(r, 'feet') ?? count(r, 'n'), count(r, 'infants'));
  }
  for (const column of columns) {
    const every = [...table.rows.keys()];
    // Shares of different items do not add up; plain counts may, to a line of all.
    const shares = table.rows.some(row => isShare(row[column]));
    const lineOfAll = (r: number): boolean =>
      r === 0 ||
      r === table.rows.length - 1 ||
      Object.values(table.rows[r] ?? {}).some(
        cell => typeof cell === 'string' && /^(all|total)\b/i.test(cell),
      );
    if (!shares) {
      relateRuns(
        draft,
        every.map(r => count(r, column)),
        lineOfAll,
      );
    }
    for (const lines of linesOfOneItem(table))
      relateItem(
        draft,
        lines,
        r => count(r, column),
        r => whole(r, column),
      );
    const feet = every.find(r => plainHead(headOf(table, table.rows[r] ?? {})).toLowerCase() === 'feet');
    const infants = every.find(r => rowCountsInfants(headOf(table, table.rows[r] ?? {})));
    if (feet === undefined) continue;
    if (infants !== undefined) draft.pair(count(feet, column), count(infants, column));
    // What is recorded and what is not make up the feet.
    for (const lines of linesOfOneItem(table)) {
      const recorded = lines.map(r => whole(r, column)).find(cell => cell !== undefined);
      const missing = lines.filter(r => whole(r, column) === undefined).map(r => count(r, column));
      if (recorded !== undefined && missing.length > 0)
        draft.sum(count(feet, column), [recorded, ...missing]);
    }
  }
}

/** The shares of one item add up to the feet of which it is recorded. */
function relateItem(
  draft: ModelDraft,
  lines: readonly number[],
  count: (r: number) => number | undefined,
  whole: (r: number) => number | undefined,
): void {
  const shares = lines.filter(r => whole(r) !== undefined);
  const first = shares[0];
  if (first === undefined || shares.length < 2) return;
  draft.sum(whole(first), shares.map(count));
}

/** Neighbouring lines with the same words before a colon, such as `Sex: female` and `Sex: male`. */
function linesOfOneItem(table: FindingTable): readonly (readonly number[])[] {
  const items: { item: string; lines: number[] }[] = [];
  for (const [r, row] of table.rows.entries()) {
    const head = headOf(table, row);
    const colon = head.indexOf(': ');
    if (colon < 0) continue;
    const item = head.slice(0, colon);
    const last = items[items.length - 1];
    if (last?.item === item && last.lines[last.lines.length - 1] === r - 1) last.lines.push(r);
    else items.push({ item, lines: [r] });
  }
  return items.map(({ lines }) => lines);
}
