import { codedLabels } from '../columns.ts';
import { splitFollowUp } from '../survival/follow-up.ts';
import { type CompetingFollowUpData, checkedCompetingFollowUp } from './competing-follow-up.ts';
import {
  type CumulativeIncidence,
  type CumulativeIncidenceOptions,
  incidenceOfRows,
} from './cumulative-incidence.ts';

export interface GroupIncidence extends CumulativeIncidence {
  readonly group: string | number;
}

/**
 * The cumulative incidence of each cause in each group, in the order of `groups`, else ascending. Every group
 * has all the causes that occur in any; a group of `groups` in which nobody is has no curve and is left out.
 *
 * @throws StatisticsError as `cumulativeIncidence`; `missing-value` or `out-of-range` for a label absent or
 *   not in `groups`
 * @example cumulativeIncidenceByGroup({ time, cause, group }).map(({ group, n }) => `${group}: ${n}`) //
 *   ['mild: 4', 'severe: 4']
 */
export function cumulativeIncidenceByGroup(
  data: CompetingFollowUpData & { readonly group: ArrayLike<string | number> },
  options: CumulativeIncidenceOptions & { readonly groups?: readonly (string | number)[] | undefined } = {},
): readonly GroupIncidence[] {
  const all = checkedCompetingFollowUp(data, options.causes);
  const { codes, labels } = codedLabels('group', data.group, all.cause.length, options.groups);
  const parts = splitFollowUp(all.rows, codes, labels.length);
  const causes = parts.map(rows => new Int32Array(rows.time.length));
  const filled = new Int32Array(parts.length);
  for (let i = 0; i < codes.length; i++) {
    const g = codes[i] as number;
    const at = filled[g] as number;
    (causes[g] as Int32Array)[at] = all.cause[i] as number;
    filled[g] = at + 1;
  }
  return parts.flatMap((rows, g) => {
    const group = labels[g];
    const cause = causes[g];
    if (group === undefined || cause === undefined || cause.length === 0) return [];
    return [{ group, ...incidenceOfRows({ rows, cause, labels: all.labels }, options) }];
  });
}
