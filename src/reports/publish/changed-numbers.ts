import type { Cell, Finding } from '../../analyses/finding.ts';
import { csvText } from '../csv.ts';
import type { FindingsDocument } from '../findings-document.ts';

/** A published number that differs from the earlier version. */
export interface ChangedNumber {
  readonly finding: string;
  readonly key: string;
  readonly before: string;
  readonly after: string;
}

/** Numbers of measures, tests and tables that a new version gives otherwise than the one before, or that only one gives. */
export function changedNumbers(before: FindingsDocument, after: FindingsDocument): readonly ChangedNumber[] {
  const [earlier, later] = [numbersOf(before.findings), numbersOf(after.findings)];
  const keys = [...new Set([...earlier.keys(), ...later.keys()])].sort();
  return keys.flatMap(key => {
    const [was, is] = [earlier.get(key) ?? 'absent', later.get(key) ?? 'absent'];
    if (was === is) return [];
    const [finding = '', ...rest] = key.split('\n');
    return [{ finding, key: rest.join('.'), before: was, after: is }];
  });
}

export function changesCsv(changes: readonly ChangedNumber[]): string {
  return csvText(
    ['finding', 'key', 'before', 'after'],
    changes.map(({ finding, key, before, after }) => [finding, key, before, after]),
  );
}

function numbersOf(findings: readonly Finding[]): ReadonlyMap<string, string> {
  const numbers = new Map<string, string>();
  for (const finding of findings) {
    const note = (key: string, text: string): void => void numbers.set(`${finding.key}\n${key}`, text);
    const { feet, infants } = finding.population;
    note('population', `${feet} feet of ${infants} infants`);
    for (const { key, estimate, lower, upper, state, n } of finding.measures) {
      note(
        key,
        `${cellWords({ estimate, lower, upper }) || (state ?? 'absent')}${n === undefined ? '' : `, n ${n}`}`,
      );
    }
    for (const { key, statistic, pValue, state } of finding.tests) {
      note(`test.${key}`, pValue === undefined ? (state ?? 'absent') : `${statistic ?? ''} P ${pValue}`);
    }
    for (const table of finding.tables) {
      for (const [r, row] of table.rows.entries()) {
        for (const { key } of table.columns) note(`table.${table.key}.${r + 1}.${key}`, cellWords(row[key]));
      }
    }
  }
  return numbers;
}

type Part = number | string | undefined;

function cellWords(cell: Cell | Readonly<Record<string, Part>>): string {
  if (cell === undefined) return 'absent';
  if (typeof cell !== 'object') return String(cell);
  return Object.values(cell as Readonly<Record<string, Part>>)
    .filter(part => part !== undefined)
    .join(' ');
}
