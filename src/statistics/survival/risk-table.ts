import { codedLabels, finiteColumn } from '../columns.ts';
import { checkedFollowUp, type FollowUp, type FollowUpData, splitFollowUp } from './follow-up.ts';
import type { GroupOrder } from './kaplan-meier-by-group.ts';

/**
 * Counts at one tick; they add up to the rows of the group: at risk + events + censored + not yet entered =
 * n.
 */
export interface RiskTableRow {
  readonly time: number;
  /** At risk just before the tick: still followed, and entered. */
  readonly atRisk: number;
  /** Events before the tick. */
  readonly events: number;
  /** Censored before the tick. */
  readonly censored: number;
  /** Late entry: not under observation before the tick. */
  readonly notYetEntered: number;
}

export interface RiskTable {
  /** Undefined if there is one table for all rows. */
  readonly group: string | number | undefined;
  readonly n: number;
  readonly rows: readonly RiskTableRow[];
}

/**
 * Numbers at risk, with events and censored, at the ticks of a time axis, one table a group.
 *
 * At risk is counted just before the tick, and events and censorings are those before it, so that at every
 * tick the counts add up to all rows (sums of weights, if there are weights). A row that enters at 0 is at
 * risk at the tick 0.
 *
 * @throws StatisticsError as `kaplanMeier`, and for empty or missing ticks
 * @example riskTable({ time: [3, 5], event: [1, 0] }, [0, 4])[0].rows[1].atRisk // 1
 *
 * Source: Morris et al., BMJ Open 2019;9:e030215.
 */
export function riskTable(
  data: FollowUpData & { readonly group?: ArrayLike<string | number> | undefined },
  times: ArrayLike<number>,
  options: GroupOrder = {},
): readonly RiskTable[] {
  const rows = checkedFollowUp(data);
  const ticks = finiteColumn('times', times);
  if (data.group === undefined) return [tableOf(undefined, rows, ticks)];
  const { codes, labels } = codedLabels('group', data.group, rows.time.length, options.groups);
  const parts = splitFollowUp(rows, codes, labels.length);
  return labels.flatMap((group, g) => {
    const part = parts[g];
    return part === undefined ? [] : [tableOf(group, part, ticks)];
  });
}

function tableOf(group: string | number | undefined, rows: FollowUp, ticks: Float64Array): RiskTable {
  const n = sumWhere(rows, () => true);
  const table = Array.from(ticks, time => {
    const notYetEntered = sumWhere(rows, i => {
      const entry = rows.entry?.[i] ?? 0;
      return entry > 0 && entry >= time;
    });
    const events = sumWhere(rows, i => (rows.time[i] as number) < time && rows.event[i] === 1);
    const censored = sumWhere(rows, i => (rows.time[i] as number) < time && rows.event[i] === 0);
    return { time, atRisk: n - events - censored - notYetEntered, events, censored, notYetEntered };
  });
  return { group, n, rows: table };
}

function sumWhere(rows: FollowUp, counts: (row: number) => boolean): number {
  let sum = 0;
  for (let i = 0; i < rows.time.length; i++) if (counts(i)) sum += rows.weight?.[i] ?? 1;
  return sum;
}
