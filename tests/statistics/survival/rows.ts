import { dataset } from '../../reference/load.ts';

/**
 * Rows of an open dataset as follow-up; the fields it has are named, entry and group only where asked for.
 */
export interface Fields {
  readonly time: string;
  readonly event: string;
  /** The value of the event field that means an event; 1 unless told. */
  readonly eventValue?: string;
  readonly entry?: string;
  readonly group?: string;
  readonly strata?: string;
}

export interface Rows {
  readonly time: readonly number[];
  readonly event: readonly number[];
  readonly group: readonly string[];
  readonly entry?: readonly number[];
  readonly strata?: readonly string[];
}

export function rowsOf(
  name: string,
  fields: Fields,
  keep: (row: Readonly<Record<string, string>>) => boolean = () => true,
): Rows {
  const rows = dataset(name).filter(keep);
  const text = (field: string) => rows.map(row => row[field] ?? '');
  return Object.freeze({
    time: Object.freeze(text(fields.time).map(Number)),
    event: Object.freeze(text(fields.event).map(value => (value === (fields.eventValue ?? '1') ? 1 : 0))),
    group: Object.freeze(fields.group ? text(fields.group) : rows.map(() => 'all')),
    ...(fields.entry ? { entry: Object.freeze(text(fields.entry).map(Number)) } : {}),
    ...(fields.strata ? { strata: Object.freeze(text(fields.strata)) } : {}),
  });
}

/** A reference list, in which null stands for not available. */
export type Listed = readonly (number | string | null)[];
