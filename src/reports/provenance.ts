import type { Problem } from '../records/records.ts';

/** Problems of one kind in one field of one file: a count, with no value and no line. */
export interface ProblemCount {
  readonly file: string;
  readonly field: string | undefined;
  readonly kind: string;
  readonly severity: Problem['severity'];
  readonly count: number;
}

/** One input file of the export, as read. */
export interface FileProvenance {
  readonly file: string;
  readonly read: number;
  readonly accepted: number;
  readonly refused: number;
  readonly sha256: string;
  readonly extraColumns: readonly string[];
}

/** Where the numbers of a report come from. Holds no clock: the same export and plan give the same provenance. */
export interface Provenance {
  readonly software: string;
  readonly version: string;
  readonly service: string | undefined;
  /** Days since 1970-01-01. */
  readonly cutOff: number;
  /** Given with the export, or else the latest date in it. */
  readonly cutOffGiven: boolean;
  readonly exportedAt: string | undefined;
  readonly files: readonly FileProvenance[];
  readonly problems: readonly ProblemCount[];
  /** SHA-256 of the plan in canonical form. */
  readonly planSha256: string;
}

/** Counts problems by file, field and kind, in that order; drops whatever could point at a row. */
export function countProblems(problems: readonly Problem[]): readonly ProblemCount[] {
  const counts = new Map<string, ProblemCount>();
  for (const { file, field, kind, severity } of problems) {
    const key = JSON.stringify([file, field ?? '', kind, severity]);
    counts.set(key, { file, field, kind, severity, count: (counts.get(key)?.count ?? 0) + 1 });
  }
  return [...counts].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, count]) => count);
}
