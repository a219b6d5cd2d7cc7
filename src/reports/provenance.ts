import type { Plan } from '../plan/plan.ts';
import { sha256 } from '../plan/sha256.ts';
import { type ExportRecords, type ProblemCount, type RowCount, TABLE_NAMES } from '../records/records.ts';
import { canonicalJson } from './canonical-json.ts';

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
  readonly files: readonly RowCount[];
  /** Counts alone: no value, no line, no code. */
  readonly problems: readonly ProblemCount[];
  /** SHA-256 of the plan in canonical form. */
  readonly planSha256: string;
}

/** What is known of the making of a report from the records read and the plan used. */
export function provenanceOf(
  records: Pick<
    ExportRecords,
    'service' | 'cutOff' | 'cutOffGiven' | 'exportedAt' | 'problemCounts' | 'counts'
  >,
  plan: Plan,
  software: { readonly name: string; readonly version: string },
): Provenance {
  return {
    software: software.name,
    version: software.version,
    service: records.service,
    cutOff: records.cutOff,
    cutOffGiven: records.cutOffGiven,
    exportedAt: records.exportedAt,
    files: TABLE_NAMES.map(name => records.counts[name]),
    problems: records.problemCounts,
    planSha256: sha256(canonicalJson(plan)),
  };
}
