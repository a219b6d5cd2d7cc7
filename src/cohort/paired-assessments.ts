import type { AssessmentRow } from '../records/rows.ts';
import type { Flexibility } from './cohort.ts';
import { compareCodes } from './group-by-episode.ts';
import { countingAssessments } from './visits.ts';

/** What one assessor recorded of a foot. */
export interface AssessedFindings {
  readonly assessor: string | undefined;
  readonly bisectorPosition: number | undefined;
  readonly flexibility: Flexibility | undefined;
  readonly medialCrease: boolean | undefined;
}

/** Two assessments of one foot on one day: the one that counts, and another one. */
export interface PairedAssessment {
  readonly episode: string;
  readonly infant: string;
  /** Since first fitting. */
  readonly day: number;
  readonly counting: AssessedFindings;
  readonly other: AssessedFindings;
}

interface FootOfRows {
  readonly episode: string;
  readonly infant: string;
  readonly clinician: string | undefined;
  readonly startDate: number;
}

/**
 * The pairs of one foot, by day, then by the other assessor: each assessment that does not count beside the one of its
 * day that does.
 *
 * @param rows the assessments of the foot, in any order
 */
export function pairedAssessments(
  rows: readonly AssessmentRow[],
  { episode, infant, clinician, startDate }: FootOfRows,
): readonly PairedAssessment[] {
  const counting = countingAssessments(rows, clinician);
  if (counting.length === rows.length) return [];
  const byDate = new Map(counting.map(row => [row.date, row]));
  const pairs: PairedAssessment[] = [];
  for (const row of rows) {
    const counts = byDate.get(row.date);
    if (counts === undefined || counts === row) continue;
    pairs.push({
      episode,
      infant,
      day: row.date - startDate,
      counting: findingsOf(counts),
      other: findingsOf(row),
    });
  }
  return pairs.sort((a, b) => a.day - b.day || compareCodes(a.other.assessor ?? '', b.other.assessor ?? ''));
}

function findingsOf(row: AssessmentRow): AssessedFindings {
  return {
    assessor: row.assessor_id,
    bisectorPosition: row.bisector_position,
    flexibility: row.flexibility,
    medialCrease: row.medial_crease,
  };
}
