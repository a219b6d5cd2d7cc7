import { type CodedLabels, codedLabels, refuseUnread, requireLength } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { entryColumn, followUpColumn, weightColumn } from '../follow-up-columns.ts';

type StateLabel = string | number;

/** Spells of subjects in states: in `from` over (start, stop], then in `to`. */
export interface SpellData {
  readonly subject: ArrayLike<string | number>;
  readonly start: ArrayLike<number>;
  readonly stop: ArrayLike<number>;
  readonly from: ArrayLike<StateLabel>;
  /**
   * The state entered at `stop`. No transition: empty text, 'censored', undefined or null; the state of
   * `from` itself; or 0, unless 0 is a state (stands in `from` or among the states named).
   */
  readonly to: ArrayLike<StateLabel | null | undefined>;
  readonly weight?: ArrayLike<number> | undefined;
  /** Standard errors allow for dependence within these clusters; the subject unless told. */
  readonly cluster?: ArrayLike<string | number> | undefined;
}

/** Checked spells; `to` is -1 where the spell ends without a transition. */
export interface Spells {
  readonly start: Float64Array;
  readonly stop: Float64Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly weight: Float64Array;
  readonly cluster: Int32Array;
  readonly clusters: number;
  readonly states: readonly StateLabel[];
}

export function checkedSpells(data: SpellData, order: readonly StateLabel[] | undefined): Spells {
  refuseUnread(data, ['weight', 'cluster']);
  const stop = followUpColumn('stop', data.stop);
  const n = stop.length;
  const start = entryColumn('start', data.start, stop);
  const subject = codedLabels('subject', data.subject, n);
  const { from, to, states } = stateColumns(data, n, order);
  refuseContradictions(data, subject, { start, stop, from, to });
  const cluster = data.cluster ? codedLabels('cluster', data.cluster, n) : subject;
  const weight = data.weight ? weightColumn('weight', data.weight, n) : new Float64Array(n).fill(1);
  return { start, stop, from, to, weight, cluster: cluster.codes, clusters: cluster.labels.length, states };
}

function stateColumns(data: SpellData, n: number, order: readonly StateLabel[] | undefined) {
  requireLength('from', data.from, n);
  requireLength('to', data.to, n);
  const zeroIsState = (order ?? []).includes(0) || Array.from(data.from).includes(0);
  const entered = Array.from(data.to, to =>
    to === undefined || to === null || to === '' || to === 'censored' || (to === 0 && !zeroIsState)
      ? undefined
      : to,
  );
  // One list of labels for both columns: where a spell ends without a transition, its own state stands in.
  const both = [...Array.from(data.from), ...entered.map((to, i) => to ?? data.from[i] ?? '')];
  const { codes, labels } = codedLabels('from and to', both, 2 * n, order);
  const from = codes.slice(0, n);
  const to = codes.slice(n).map((state, i) => (state === from[i] ? -1 : state));
  return { from, to, states: labels };
}

/** A subject is in one state at a time, and goes on from the state it entered. */
function refuseContradictions(
  data: SpellData,
  subject: CodedLabels,
  { start, stop, from, to }: Pick<Spells, 'start' | 'stop' | 'from' | 'to'>,
): void {
  const order = Int32Array.from(start.keys()).sort(
    (a, b) =>
      (subject.codes[a] as number) - (subject.codes[b] as number) ||
      (start[a] as number) - (start[b] as number),
  );
  for (let at = 1; at < order.length; at++) {
    const before = order[at - 1] as number;
    const row = order[at] as number;
    if (subject.codes[before] !== subject.codes[row]) continue;
    const who = `subject ${String(data.subject[row])}`;
    if ((start[row] as number) < (stop[before] as number)) {
      throw new StatisticsError(
        'out-of-range',
        `start[${row}] is ${start[row]}, within the spell of ${who} that stops at ${stop[before]}; spells must not overlap`,
      );
    }
    const reached = to[before] === -1 ? from[before] : to[before];
    if (start[row] === stop[before] && from[row] !== reached) {
      throw new StatisticsError(
        'out-of-range',
        `from[${row}] is ${String(data.from[row])}; ${who} was left in another state at ${start[row]}`,
      );
    }
  }
}
