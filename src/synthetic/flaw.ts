import { fromIsoDate, isoDate } from './calendar.ts';

/** One row of a table, with its cells by column name. */
export interface FlawedRow {
  readonly get: (column: string) => string;
  readonly set: (column: string, text: string) => void;
}

/** What a flaw may work with: one row of its table, the episode and its neighbours. */
export interface FlawContext {
  readonly row: FlawedRow;
  /** The next row of the same episode in the same table. */
  readonly next: FlawedRow | undefined;
  readonly episode: FlawedRow;
  /** Day of first fitting. */
  readonly start: number;
  readonly cutOff: number;
  /** Adds a row at the end of the table: a copy of this one, with some cells changed. */
  readonly append: (changes: Readonly<Record<string, string>>) => void;
  /** Puts other text in place of the whole line. */
  readonly replaceLine: (text: string) => void;
}

/** A kind of flaw: which rows it can be planted in, and how. */
export interface Flaw {
  readonly kind: string;
  readonly field: string;
  readonly fits: (context: FlawContext) => boolean;
  readonly plant: (context: FlawContext) => void;
  /** Where the check finds it: in the row itself, the next one of the episode, or the row added. */
  readonly found?: 'next' | 'added';
}

/** Moves an ISO date by days. */
export function shifted(text: string, days: number): string {
  return isoDate(fromIsoDate(text) + days);
}
