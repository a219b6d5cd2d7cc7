import { codedLabels, finiteColumn } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { midRanks } from './mid-ranks.ts';

/** Values with the group each belongs to. */
export interface GroupedValues {
  readonly value: ArrayLike<number>;
  readonly group: ArrayLike<string | number>;
}

export interface GroupOfRanks {
  readonly group: string | number;
  readonly n: number;
  readonly meanRank: number;
}

export interface GroupedRanks {
  readonly groups: readonly GroupOfRanks[];
  readonly codes: Int32Array;
  readonly values: Float64Array;
  readonly ties: readonly number[];
  readonly total: number;
}

/**
 * Ranks over all groups together, and their mean in each.
 *
 * @throws StatisticsError `one-group` unless two groups have values, `empty` for a named group without any
 */
export function groupedRanks(
  { value, group }: GroupedValues,
  order?: readonly (string | number)[],
): GroupedRanks {
  const values = finiteColumn('value', value);
  const { codes, labels } = codedLabels('group', group, values.length, order);
  if (labels.length < 2) {
    throw new StatisticsError('one-group', `group has ${labels.length} label; two groups are needed`);
  }
  const { ranks, ties } = midRanks(values);
  const sums = new Float64Array(labels.length);
  const sizes = new Float64Array(labels.length);
  for (let i = 0; i < values.length; i++) {
    const code = codes[i] as number;
    sums[code] = (sums[code] as number) + (ranks[i] as number);
    sizes[code] = (sizes[code] as number) + 1;
  }
  const groups = labels.map((label, code) => {
    const n = sizes[code] as number;
    if (n === 0) throw new StatisticsError('empty', `group ${label} has no value; leave it out`);
    return { group: label, n, meanRank: (sums[code] as number) / n };
  });
  return { groups, codes, values, ties, total: values.length };
}
