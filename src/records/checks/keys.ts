import { duplicateKey } from '../problems/rows.ts';
import type { Checking } from './checking.ts';
import { column, lineOf, refuse } from './checking.ts';
import { forEachRun, runsBy } from './groups.ts';

/** Refuses every row whose key a row before it in the file has already; the first one stays. */
export function checkKeys(checking: Checking): void {
  const { table } = checking.data;
  const [first, ...rest] = table.key;
  if (first === undefined) return;
  const others = rest.map(name => column(checking, name));
  forEachRun(runsBy(checking, first, ...rest), rows => {
    let kept = rows[0] as number;
    for (let i = 1; i < rows.length; i++) {
      const row = rows[i] as number;
      if (others.every(values => values[row] === values[kept])) {
        const why = duplicateKey(table.file, lineOf(checking, row), table.key, lineOf(checking, kept));
        refuse(checking, row, why);
      } else kept = row;
    }
  });
}
