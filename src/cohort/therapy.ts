import type { EndReason } from '../plan/plan.ts';
import type { EpisodeRow } from '../records/rows.ts';

/** How long the therapy of a foot was seen, in days since first fitting, and how it ended. */
export interface Therapy {
  readonly lastDay: number;
  readonly end: EndReason | 'in therapy';
}

/**
 * Last day of therapy: the end date, or the cut-off while in therapy.
 * An end without its reason (refused at load) counts as lost to follow-up, which claims nothing beyond that day.
 */
export function therapyOf(row: EpisodeRow, cutOff: number): Therapy {
  if (row.end_date === undefined) return { lastDay: cutOff - row.start_date, end: 'in therapy' };
  return { lastDay: row.end_date - row.start_date, end: row.end_reason ?? 'lost to follow-up' };
}
