import type { Cell, Count, Finding, FindingTable, TableColumn } from '../../analyses/finding.ts';
import { isHidden } from '../../wording/hidden-count.ts';
import type { FindingsInput } from '../findings-document.ts';

/** A place of a report where a count of feet, infants, events or rows stands. */
export interface CountSite {
  readonly path: string;
  readonly value: Count;
  readonly sort: 'infants' | 'other';
  /** The finding it stands in. */
  readonly scope: string;
  /** The group it is of, where one is named; `all` for everything. */
  readonly tag: string | undefined;
  /** What a reader loses with it; the cheapest is hidden first. */
  readonly weight: number;
}

/** Every count of a report, by place; a place that is absent in a published report was hidden. */
export function countSites({
  findings,
  flow,
  provenance,
}: Pick<FindingsInput, 'findings' | 'flow' | 'provenance'>): readonly CountSite[] {
  const sites: CountSite[] = [];
  const add = (path: string, value: Count | undefined, tag: string | undefined, weight: number): void => {
    if (value === undefined) return;
    const sort = /\b[Ii]nfants\b/.test(path.slice(path.lastIndexOf('/') + 1)) ? 'infants' : 'other';
    sites.push({ path, value, sort, scope: path.slice(0, path.indexOf('/')), tag, weight });
  };
  for (const { key, label, depth, feet, infants } of flow) {
    const tag = depth === 0 ? 'all' : label.replace(/^left out: /, '');
    const weight = key === 'read' ? 4 : depth === 0 && /accepted|banded|one-per/.test(key) ? 9 : 3;
    add(`flow/${key}/feet`, feet, tag, weight);
    add(`flow/${key}/infants`, infants, tag, weight - 0.5);
  }
  for (const file of provenance.files) {
    const tag = file.file === 'episodes.csv' ? 'all' : file.file;
    add(`rows/${file.file}/read`, file.read, tag, 4);
    add(`rows/${file.file}/accepted`, file.accepted, tag, 4.5);
    add(`rows/${file.file}/refused`, file.refused, tag, 3);
  }
  for (const { file, kind, severity, count } of provenance.problems) {
    add(`problems/${file} ${kind} ${severity}`, count, kind, 3);
  }
  for (const finding of findings) findingSites(finding, add);
  return sites;
}

type Add = (path: string, value: Count | undefined, tag: string | undefined, weight: number) => void;

function findingSites(finding: Finding, add: Add): void {
  const at = (...steps: readonly (string | number)[]): string => [finding.key, ...steps].join('/');
  const { population } = finding;
  add(at('population', 'feet'), population.feet, 'all', 9);
  add(at('population', 'infants'), population.infants, 'all', 9);
  for (const { reason, feet, infants } of population.leftOut) {
    add(at('left out', reason, 'feet'), feet, reason, 3);
    add(at('left out', reason, 'infants'), infants, reason, 3);
  }
  for (const measure of finding.measures) {
    const tag = measure.group ?? 'all';
    const whole = /\.(all|feet)|^feet|^followed/.test(measure.key) ? 6 : 3;
    if (measure.kind === 'count') {
      const hidden = isHidden(measure.state) ? measure.state : undefined;
      add(at('measure', measure.key, 'estimate'), measure.estimate ?? hidden, tag, whole);
    }
    add(at('measure', measure.key, 'n'), measure.n, tag, 6);
    add(at('measure', measure.key, 'infants'), measure.infants, tag, 2);
    add(at('measure', measure.key, 'events'), measure.events, tag, OF_THE_EVENT);
  }
  for (const curve of finding.curves) {
    add(at('curve', curve.key, 'n'), curve.n, curve.group, 6);
    add(at('curve', curve.key, 'infants'), curve.infants, curve.group, 5);
    for (const [row, weight] of RISK_ROWS) {
      // Nothing has happened before time 0, and everyone is at risk then: these are no counts of their own.
      for (const [k, count] of curve.riskTable[row].entries()) {
        add(at('curve', curve.key, `${row}.${k}`), count, `${curve.key} ${row} ${k}`, k === 0 ? 9 : weight);
      }
    }
  }
  for (const effect of finding.effects ?? []) {
    add(at('effect', effect.key, 'n'), effect.n, undefined, 4);
    add(at('effect', effect.key, 'events'), effect.events, undefined, OF_THE_EVENT);
  }
  for (const curve of finding.meanCounts ?? []) {
    add(at('mean count', curve.key, 'n'), curve.n, curve.group, 6);
    add(at('mean count', curve.key, 'infants'), curve.infants, curve.group, 5);
    add(at('mean count', curve.key, 'events'), curve.events, curve.group, 3);
  }
  for (const shares of finding.occupancy ?? []) {
    add(at('occupancy', shares.key, 'n'), shares.n, shares.group, 6);
    add(at('occupancy', shares.key, 'infants'), shares.infants, shares.group, 5);
  }
  auditSites(finding, add);
  for (const table of finding.tables) tableSites(finding, table, add);
}

/** An estimate goes with the number of its events: hiding it costs the answer, hiding how others ended does not. */
const OF_THE_EVENT = 8;

export const RISK_ROWS = [
  ['atRisk', 4],
  ['events', 3],
  ['competing', 1.5],
  ['censored', 1],
] as const;

/** Counts that are drawn: a standard has those of its line in the table, a point those of its quarter. */
function auditSites({ key, standards = [], quarterCharts = [], funnels = [] }: Finding, add: Add): void {
  for (const standard of standards) {
    const at = `${key}/standard/${standard.key}`;
    add(`${at}/count`, standard.count, standard.title, 2);
    add(`${at}/n`, standard.n, standard.title, 3);
    add(`${at}/infants`, standard.infants, standard.title, 1);
  }
  for (const chart of quarterCharts) {
    for (const { place, count, size } of chart.points) {
      const at = `${key}/chart/${chart.key}/${place}`;
      add(`${at}/count`, count, `${chart.key} ${place}`, 1);
      if (chart.kind === 'proportion') add(`${at}/size`, size, `${chart.key} ${place}`, 2);
    }
  }
  for (const funnel of funnels) {
    for (const { kind, code, count, n } of funnel.units) {
      const at = `${key}/funnel/${funnel.key}/${kind} ${code}`;
      add(`${at}/count`, count, at, 1);
      add(`${at}/n`, n, at, 2);
    }
  }
}

function tableSites(finding: Finding, table: FindingTable, add: Add): void {
  const groups = groupsOf(finding);
  for (const [r, row] of table.rows.entries()) {
    const head = headOf(table, row);
    for (const column of table.columns) {
      const path = tablePath(finding, table, r, column.key, rowCountsInfants(head) ? 'infants' : column.key);
      const tag = groups.has(column.key)
        ? column.key
        : groups.has(plainHead(head))
          ? plainHead(head)
          : undefined;
      const weight =
        plainHead(head).toLowerCase() === 'feet' || column.key === 'n' || column.key === 'followed' ? 6 : 2;
      const cell = row[column.key];
      if (isCountCell(column, cell) || isHidden(cell)) add(path, cell, tag, weight);
      else if (isShare(cell)) {
        add(`${path}.count`, cell.count, tag, weight);
        add(`${path}.of`, cell.of, tag, weight + 1);
      }
    }
  }
}

/** The last step of the path says what is counted, so that a line of infants is told from a line of feet. */
export function tablePath(
  finding: Finding,
  table: FindingTable,
  row: number,
  column: string,
  counted: string,
): string {
  return `${finding.key}/table/${table.key}/${row}/${column}/${counted}`;
}

export function isShare(cell: Cell): cell is Extract<Cell, { readonly count: number }> {
  return typeof cell === 'object' && 'count' in cell;
}

/** A number of a table that counts something: not a time, a rate or the week that heads a row. */
export function isCountCell(column: TableColumn, cell: Cell): cell is number {
  if (typeof cell !== 'number' || !Number.isInteger(cell) || cell < 0) return false;
  if (/week|day|hour|month|year|degree/i.test(column.unit ?? '') || isTimeColumn(column.key)) return false;
  return column.kind === 'count' || column.kind === 'mixed' || column.kind === 'percent of n';
}

/** A column that heads its rows with a moment, such as `week`. */
export function isTimeColumn(key: string): boolean {
  return /^(week|day|hour|hours|month|year|quarter)$/.test(key);
}

/** The text of the first column, which names the row. */
export function headOf(table: FindingTable, row: FindingTable['rows'][number]): string {
  const first = table.columns[0];
  const cell = first === undefined ? undefined : row[first.key];
  return typeof cell === 'string' ? cell : '';
}

export function rowCountsInfants(head: string): boolean {
  return /^infants\b/i.test(head);
}

export function plainHead(head: string): string {
  return head.replace(/^spells of /, '').replace(/ (feet|step-downs|spells)$/, '');
}

/** Names of groups that the measures and curves of a finding use. */
export function groupsOf(finding: Finding): ReadonlySet<string> {
  const named = [...finding.measures, ...finding.curves].flatMap(({ group }) =>
    group === undefined ? [] : [group],
  );
  return new Set([...named, ...(finding.standards ?? []).map(({ title }) => title), 'all']);
}
