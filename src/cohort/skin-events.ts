import type { EventRow } from '../records/rows.ts';
import type { SkinEvent } from './cohort.ts';
import { compareCodes } from './group-by-episode.ts';

/** Events of one foot by day since first fitting, then by kind; those outside therapy are kept. */
export function skinEvents(rows: readonly EventRow[], startDate: number): readonly SkinEvent[] {
  return rows
    .map(row => ({
      day: row.date - startDate,
      kind: row.kind,
      hoursOff: row.hours_off,
      reviewDay: row.review_date === undefined ? undefined : row.review_date - startDate,
      cause: row.cause,
    }))
    .sort((a, b) => a.day - b.day || compareCodes(a.kind, b.kind));
}
