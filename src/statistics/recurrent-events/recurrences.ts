import { codedLabels, eventColumn, finiteColumnOf, refuseUnread } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { followUpColumn } from '../follow-up-columns.ts';

/** Events that can happen again, one row an event or a visit; every subject needs at least one row. */
export interface RecurrentEventData {
  readonly subject: ArrayLike<string | number>;
  readonly time: ArrayLike<number>;
  /** 1 or true: an event at `time`; 0 or false: none, the row tells only that the subject was followed. */
  readonly event: ArrayLike<number | boolean>;
  /** End of the subject's follow-up, the same in all its rows; its last time unless told. */
  readonly end?: ArrayLike<number> | undefined;
  /** Late entry of the subject, the same in all its rows: under observation only after this time. */
  readonly entry?: ArrayLike<number> | undefined;
}

/** Follow-up by subject, and the events with the code of their subject. */
export interface Recurrences {
  readonly entry: Float64Array;
  readonly end: Float64Array;
  readonly subject: Int32Array;
  readonly time: Float64Array;
  readonly event: Uint8Array;
  readonly labels: readonly (string | number)[];
}

export function checkedRecurrences(data: RecurrentEventData): Recurrences {
  refuseUnread(data, ['entry']);
  const time = followUpColumn('time', data.time);
  const n = time.length;
  const { codes: subject, labels } = codedLabels('subject', data.subject, n);
  const event = eventColumn('event', data.event, n);
  const end = new Float64Array(labels.length);
  for (let i = 0; i < n; i++) {
    const s = subject[i] as number;
    end[s] = Math.max(end[s] as number, time[i] as number);
  }
  const ends = data.end && perSubject('end', finiteColumnOf('end', data.end, n), subject, labels);
  const entry = data.entry
    ? perSubject('entry', followUpColumn('entry', data.entry), subject, labels)
    : new Float64Array(labels.length);
  for (let i = 0; i < n; i++) {
    const s = subject[i] as number;
    const last = ends ? (ends[s] as number) : (end[s] as number);
    if ((time[i] as number) > last) {
      throw new StatisticsError(
        'out-of-range',
        `time[${i}] is ${time[i]}, after the end of follow-up ${last}`,
      );
    }
    if ((entry[s] as number) > 0 && (event[i] === 1 ? (time[i] as number) : last) <= (entry[s] as number)) {
      throw new StatisticsError(
        'entry-not-before-exit',
        `entry[${i}] is ${entry[s]}; it must come before the subject's events and end`,
      );
    }
  }
  return { entry, end: ends ?? end, subject, time, event, labels };
}

function perSubject(
  name: string,
  values: Float64Array,
  subject: Int32Array,
  labels: readonly (string | number)[],
): Float64Array {
  if (values.length !== subject.length) {
    throw new StatisticsError('length', `${name} has ${values.length} values; ${subject.length} are needed`);
  }
  const found = new Float64Array(labels.length).fill(Number.NaN);
  for (let i = 0; i < subject.length; i++) {
    const s = subject[i] as number;
    if (!Number.isNaN(found[s]) && found[s] !== values[i]) {
      throw new StatisticsError(
        'out-of-range',
        `${name}[${i}] is ${values[i]} and was ${found[s]} for subject ${String(labels[s])}; one value a subject is needed`,
      );
    }
    found[s] = values[i] as number;
  }
  return found;
}
