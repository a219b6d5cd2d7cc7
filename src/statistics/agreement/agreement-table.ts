import { codedLabels } from '../columns.ts';
import { StatisticsError } from '../errors.ts';

export interface AgreementTable {
  /** Rows: first rating, columns: second, both in the order of `categories`. */
  readonly table: readonly (readonly number[])[];
  readonly categories: readonly (string | number)[];
}

/**
 * Counts how often two ratings of the same subjects fell together: cell (i, j) is the number of subjects whose first
 * rating is category i and whose second is category j. It is the table that `cohensKappa` takes.
 *
 * @param categories all categories in their order; ascending order of those seen unless given
 * @throws StatisticsError `empty`, `length`, `missing-value`, `out-of-range` for a label not among the categories
 * @example agreementTable(['mild', 'severe', 'mild'], ['mild', 'severe', 'severe']).table // [[1, 1], [0, 1]]
 */
export function agreementTable(
  first: ArrayLike<string | number>,
  second: ArrayLike<string | number>,
  categories?: readonly (string | number)[],
): AgreementTable {
  const n = first.length;
  if (n === 0) throw new StatisticsError('empty', 'first is empty; at least one subject is needed');
  const order = categories ?? seenInEither(first, second, n);
  const a = codedLabels('first', first, n, order).codes;
  const b = codedLabels('second', second, n, order).codes;
  const table = order.map(() => order.map(() => 0));
  for (let i = 0; i < n; i++) {
    const row = table[a[i] as number];
    const column = b[i] as number;
    if (row !== undefined) row[column] = (row[column] ?? 0) + 1;
  }
  return { table, categories: order };
}

function seenInEither(
  first: ArrayLike<string | number>,
  second: ArrayLike<string | number>,
  n: number,
): readonly (string | number)[] {
  // Each coded alone first, so that an error names the rating and the position in it.
  const a = codedLabels('first', first, n).labels;
  const b = codedLabels('second', second, n).labels;
  const both = [...a, ...b];
  return codedLabels('categories', both, both.length).labels;
}
