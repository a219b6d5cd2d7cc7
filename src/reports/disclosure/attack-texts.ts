import type { FindingsDocument } from '../findings-document.ts';
import type { AttackedFile } from './attack.ts';
import { isHidden } from '../../wording/hidden-count.ts';
import { isCountCell, isShare } from './count-sites.ts';
import type { DisclosurePolicy } from './policy.ts';

/**
 * Small counts that stand in a page, a table or a specification in plain sight, and numbers at full precision that the
 * findings do not hold: whatever a file adds to the findings has not been looked at.
 */
export function attackTexts(
  files: readonly AttackedFile[],
  findings: string,
  policy: DisclosurePolicy,
): readonly string[] {
  const known = new Set(findings.match(FULL_NUMBER) ?? []);
  const counted = countCells(JSON.parse(findings) as Partial<FindingsDocument>);
  return files.flatMap(file => {
    if (file.path.endsWith('.html')) return attackPage(file, policy);
    if (file.path.endsWith('.csv'))
      return [...attackCsv(file, policy, counted), ...unknownNumbers(file, file.text, known)];
    if (file.path.endsWith('.vl.json')) return attackSpecification(file, policy, known);
    return [];
  });
}

/** Decimals that no rounding for a reader leaves. */
const FULL_NUMBER = /-?\d+\.\d{6,}(?:e[+-]?\d+)?/g;

function unknownNumbers({ path }: AttackedFile, text: string, known: ReadonlySet<string>): readonly string[] {
  const strange = (text.match(FULL_NUMBER) ?? []).some(number => !known.has(number));
  return strange ? [`${path}: holds a number that the findings do not hold`] : [];
}

const isSmallText = (text: string, { below }: DisclosurePolicy): boolean =>
  /^[1-9]\d*$/.test(text) && Number(text) < below;

function attackPage({ path, text }: AttackedFile, policy: DisclosurePolicy): readonly string[] {
  const leaks: string[] = [];
  const tables = text.split(/(?=<div class="table[ "])/).filter(part => part.startsWith('<div class="table'));
  for (const table of tables) {
    const id = /id="([^"]+)"/.exec(table)?.[1] ?? 'a table';
    // Statistics of tests, the plan, and shares and times beside a known truth: none of them counts of feet.
    if (/(?:tests|plan|truth)$/.test(id)) continue;
    const cells = countCellsOf(table);
    if (cells.some(cell => isSmallText(cell.split('/')[0] ?? '', policy))) leaks.push(`${path}, ${id}`);
  }
  const prose = text.replace(
    /<svg[\s\S]*?<\/svg>/g,
    svg => /<desc[^>]*>([\s\S]*?)<\/desc>/.exec(svg)?.[1] ?? '',
  );
  const words = prose.replace(/<style[\s\S]*?<\/style>/g, ' ').replace(/<[^>]+>/g, ' ');
  for (const [all] of words.matchAll(ONE_IN_WORDS)) leaks.push(`${path}: ${all.trim()}`);
  for (const [all, count = ''] of words.matchAll(SMALL_IN_WORDS)) {
    if (isSmallText(count, policy)) leaks.push(`${path}: ${all.replace(count, '?').trim()}`);
  }
  return leaks;
}

/** Heads of columns that hold no counts of feet: shares, weeks, degrees of freedom. */
const NO_COUNT_HEAD = /<span class="unit">%|^By week|^Degrees of freedom/;

/** The cells of numbers of a table, without those of columns that hold no counts. */
function countCellsOf(table: string): readonly string[] {
  const noCount = [...table.matchAll(/<th scope="col"[^>]*>(.*?)<\/th>/g)].map(([, head = '']) =>
    NO_COUNT_HEAD.test(head),
  );
  return [...table.matchAll(/<tr>(.*?)<\/tr>/g)].flatMap(([, row = '']) =>
    [...row.matchAll(/<(?:td class="(number|wrap)"|th[^>]*)>(.*?)<\/t[dh]>/g)].flatMap(
      ([, look, text = ''], i) =>
        look === 'number' && (noCount[i] !== true || text.includes('/')) ? [text.trim()] : [],
    ),
  );
}

/** A hidden number whose noun says that it is 1. */
const ONE_IN_WORDS = /fewer than \d+ (?:[a-z]+ )?(?:foot|infant|spell|step-down|event|pair)\b/g;

const SMALL_IN_WORDS =
  /(?<![\d.,/\u202F-]|than )(\d+)(?:\/\d[\d\u202F]*|[ \u00A0](?:(?:mild|moderate|severe) )?(?:feet|foot|infants?|step-downs?|phase spells?|relapses?|corrections?|blisters?|pressure sores?)\b)/g;

/** Columns of a CSV file that hold no counts. */
const NO_COUNT =
  /value|centre|share|mean|statistic|time|week|day|hour|depth|degree|lower|upper|quartile|level|quarter|year|month|key|age/i;

function attackCsv(
  { path, text }: AttackedFile,
  policy: DisclosurePolicy,
  counted: ReadonlyMap<string, IsCount>,
): readonly string[] {
  const [header = [], ...rows] = csvRows(text);
  const kind = header.indexOf('kind');
  const own = counted.get(path);
  const leaks = new Set<string>();
  for (const [r, row] of rows.entries()) {
    for (const [i, cell] of row.entries()) {
      const name = header[i] ?? '';
      if (!isSmallText(cell, policy)) continue;
      if (own === undefined ? NO_COUNT.test(name) : !own(r, name)) continue;
      if (name === 'estimate' && row[kind] !== 'count') continue;
      leaks.add(`${path}, column ${name}`);
    }
  }
  return [...leaks];
}

/** Of each file that holds a table of a finding: whether a cell of it, by row and column, is a count. */
function countCells({ findings = [] }: Partial<FindingsDocument>): ReadonlyMap<string, IsCount> {
  return new Map(
    findings.flatMap(finding =>
      finding.tables.map(({ key, columns, rows }): readonly [string, IsCount] => {
        const name = finding.key === key ? key : `${finding.key}.${key}`;
        const isCount: IsCount = (row, header) => {
          const column = columns.find(one => one.key === header.replace(/_of$/, ''));
          const cell = column === undefined ? undefined : rows[row]?.[column.key];
          if (column === undefined) return false;
          // What the findings hide or do not hold must not stand here as a number.
          return isShare(cell) || isCountCell(column, cell) || cell === undefined || isHidden(cell);
        };
        return [`tables/${name.replace(/[^A-Za-z0-9.-]+/g, '-')}.csv`, isCount];
      }),
    ),
  );
}

type IsCount = (row: number, header: string) => boolean;

/** Rows of a CSV file of ours: RFC 4180, CRLF. */
function csvRows(text: string): readonly (readonly string[])[] {
  const rows: string[][] = [];
  let row: string[] = [];
  for (const [, quoted, plain, end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/g)) {
    row.push(quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"'));
    if (end === ',') continue;
    rows.push(row);
    row = [];
  }
  return rows.filter(cells => cells.length > 1 || cells[0] !== '');
}

function attackSpecification(
  file: AttackedFile,
  policy: DisclosurePolicy,
  known: ReadonlySet<string>,
): readonly string[] {
  const leaks: string[] = [];
  const rows: unknown[] = [];
  const walk = (value: unknown, name: string): void => {
    if (Array.isArray(value)) {
      // Ticks of an axis are plain numbers; data are rows.
      const items = value as unknown[];
      if (name === 'values') rows.push(...items.filter(item => typeof item === 'object'));
      else for (const item of items) walk(item, '');
    } else if (typeof value === 'object' && value !== null) {
      for (const [key, inner] of Object.entries(value)) walk(inner, key);
    }
  };
  walk(JSON.parse(file.text), '');
  for (const row of rows) {
    if (typeof row !== 'object' || row === null) continue;
    const { count } = row as { readonly count?: unknown };
    if ((typeof count === 'string' || typeof count === 'number') && isSmallText(String(count), policy)) {
      leaks.push(`${file.path}: a count under the axis`);
    }
  }
  return [...new Set(leaks), ...unknownNumbers(file, JSON.stringify(rows), known)];
}
