import { codedLabels, refuseUnread } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { entryColumn, followUpColumn, weightColumn } from '../follow-up-columns.ts';
import type { FollowUp } from '../survival/follow-up.ts';

/** Follow-up that ends in one of several causes, or in censoring. */
export interface CompetingFollowUpData {
  /** Exit: time of the event or of censoring, 0 or later. */
  readonly time: ArrayLike<number>;
  /** The cause of the event at `time`; 0 for censored. */
  readonly cause: ArrayLike<number | string>;
  /** Late entry: at risk only after this time. */
  readonly entry?: ArrayLike<number> | undefined;
  /** Weight of each row; a whole number stands for that many equal rows. */
  readonly weight?: ArrayLike<number> | undefined;
  /** Label of the cluster a row belongs to. */
  readonly cluster?: ArrayLike<string | number> | undefined;
}

/**
 * Checked rows: `event` tells an event of any cause, `cause` which, 0 for none and else one more than the
 * place in `labels`.
 */
export interface CompetingFollowUp {
  readonly rows: FollowUp;
  readonly cause: Int32Array;
  readonly labels: readonly (string | number)[];
}

/** @throws StatisticsError `no-events` if no cause occurs and none is named; and as the columns do */
export function checkedCompetingFollowUp(
  data: CompetingFollowUpData,
  causes: readonly (string | number)[] | undefined,
): CompetingFollowUp {
  refuseUnread(data, ['entry', 'weight', 'cluster']);
  const time = followUpColumn('time', data.time);
  const n = time.length;
  const { cause, labels } = causeColumn(data.cause, n, causes);
  const event = new Uint8Array(n);
  for (let i = 0; i < n; i++) event[i] = (cause[i] as number) > 0 ? 1 : 0;
  const cluster = data.cluster && codedLabels('cluster', data.cluster, n);
  const rows: FollowUp = {
    time,
    event,
    entry: data.entry && entryColumn('entry', data.entry, time),
    weight: data.weight && weightColumn('weight', data.weight, n),
    cluster: cluster?.codes,
    clusters: cluster?.labels.length ?? n,
  };
  return { rows, cause, labels };
}

/** Causes as codes: 0 for censored, then 1, 2, ... in the order of the labels. */
export function causeColumn(
  values: ArrayLike<number | string>,
  length: number,
  causes: readonly (string | number)[] | undefined,
): { cause: Int32Array; labels: readonly (string | number)[] } {
  const coded = codedLabels('cause', values, length, causes && [0, ...causes.filter(c => c !== 0)]);
  const labels = coded.labels.filter(label => label !== 0);
  if (labels.length === 0) {
    throw new StatisticsError('no-events', 'cause holds only 0 (censored); one event at least is needed');
  }
  const codeOf = Int32Array.from(coded.labels, label => labels.indexOf(label) + 1);
  return { cause: coded.codes.map(code => codeOf[code] as number), labels };
}
