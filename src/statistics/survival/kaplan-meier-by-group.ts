import { codedLabels } from '../columns.ts';
import type { SurvivalCurve } from './curve.ts';
import { checkedFollowUp, type FollowUpData, splitFollowUp } from './follow-up.ts';
import { curveSettings, greenwoodCurve, type KaplanMeierOptions, kaplanMeierCurve } from './kaplan-meier.ts';
import { type CountedGroup, wholeDayCounts } from './whole-day-counts.ts';

export interface GroupedFollowUpData extends FollowUpData {
  readonly group: ArrayLike<string | number>;
}

export interface GroupOrder {
  /** The groups in the order wanted; ascending unless told. */
  readonly groups?: readonly (string | number)[] | undefined;
}

export interface GroupCurve {
  readonly group: string | number;
  readonly curve: SurvivalCurve;
}

/**
 * A Kaplan-Meier curve for each group, in the order of `groups`, else ascending. Each curve is that of
 * `kaplanMeier` on the group's rows alone; a group of `groups` in which nobody is has no curve and is left
 * out.
 *
 * @throws StatisticsError as `kaplanMeier`; `missing-value` or `out-of-range` for a label that is absent or
 *   not in `groups`
 * @example kaplanMeierByGroup({ time, event, group }).map(({ group, curve }) => `${group}: ${curve.n}`) //
 *   ['mild: 4', 'severe: 4']
 */
export function kaplanMeierByGroup(
  data: GroupedFollowUpData,
  options: KaplanMeierOptions & GroupOrder = {},
): readonly GroupCurve[] {
  const settings = curveSettings(options, 'greenwood');
  const counted = settings.variance === 'greenwood' ? wholeDayCounts(data) : undefined;
  const inOrder = counted && ordered(counted, options.groups);
  if (inOrder !== undefined) {
    return inOrder.map(({ label, sets, n }) => ({ group: label, curve: greenwoodCurve(sets, n, settings) }));
  }
  const rows = checkedFollowUp(data);
  const { codes, labels } = codedLabels('group', data.group, rows.time.length, options.groups);
  return splitFollowUp(rows, codes, labels.length).flatMap((part, g) => {
    const group = labels[g];
    return group === undefined || part.time.length === 0
      ? []
      : [{ group, curve: kaplanMeierCurve(part, options) }];
  });
}

/** The groups in the order wanted; undefined if one is not among those named, which is refused elsewhere. */
function ordered(
  counted: readonly CountedGroup[],
  groups: GroupOrder['groups'],
): readonly CountedGroup[] | undefined {
  const met = counted.map(({ label }) => label);
  if (groups !== undefined && met.some(label => !groups.includes(label))) return undefined;
  const { codes, labels } = codedLabels('group', met, met.length, groups);
  return labels.flatMap((_, g) => counted[codes.indexOf(g)] ?? []);
}
