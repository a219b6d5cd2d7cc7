import { codedLabels } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import {
  type MeanCumulativeCount,
  type MeanCumulativeCountOptions,
  meanCumulativeCount,
} from './mean-cumulative-count.ts';
import type { RecurrentEventData } from './recurrences.ts';

export interface GroupCount {
  readonly group: string | number;
  readonly curve: MeanCumulativeCount;
}

/**
 * The mean cumulative count in each group, in the order of `groups`, else ascending; a group of `groups`
 * without subjects is left out.
 *
 * @throws StatisticsError as `meanCumulativeCount`; `out-of-range` for a subject in two groups, or a label
 *   not in `groups`
 * @example meanCumulativeCountByGroup({ subject: [1, 1, 2], time: [3, 5, 4], event: [1, 1, 0], group: ['a',
 *   'a', 'b'] })[0].curve.mean // [1, 2]
 */
export function meanCumulativeCountByGroup(
  data: RecurrentEventData & { readonly group: ArrayLike<string | number> },
  options: MeanCumulativeCountOptions & { readonly groups?: readonly (string | number)[] | undefined } = {},
): readonly GroupCount[] {
  const { codes, labels } = codedLabels('group', data.group, data.subject.length, options.groups);
  const groupOf = new Map<string | number, number>();
  const rowsOf: number[][] = labels.map(() => []);
  for (const [i, g] of codes.entries()) {
    const subject = data.subject[i] ?? '';
    const known = groupOf.get(subject) ?? g;
    if (known !== g) {
      throw new StatisticsError(
        'out-of-range',
        `group[${i}] is ${String(labels[g])}; subject ${String(subject)} was in ${String(labels[known])}`,
      );
    }
    groupOf.set(subject, g);
    rowsOf[g]?.push(i);
  }
  return labels.flatMap((group, g) => {
    const rows = rowsOf[g] ?? [];
    if (rows.length === 0) return [];
    const part = {
      subject: picked(data.subject, rows),
      time: picked(data.time, rows),
      event: picked(data.event, rows),
      ...(data.end ? { end: picked(data.end, rows) } : {}),
      ...(data.entry ? { entry: picked(data.entry, rows) } : {}),
    };
    const cluster = options.cluster && picked(options.cluster, rows);
    return [{ group, curve: meanCumulativeCount(part, { ...options, cluster }) }];
  });
}

function picked<T>(values: ArrayLike<T>, rows: readonly number[]): T[] {
  return rows.map(i => values[i] as T);
}
