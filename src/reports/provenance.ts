import { type Count, isHidden, WITHHELD } from '../wording/hidden-count.ts';
import type { Plan } from '../plan/plan.ts';
import { sha256 } from '../plan/sha256.ts';
import { type ExportRecords, type ProblemCount, type RowCount, TABLE_NAMES } from '../records/records.ts';
import { canonicalJson } from './canonical-json.ts';

/** Rows of one file; a small number of rows refused may be hidden. */
export type PublishedRows = Omit<RowCount, 'read' | 'accepted' | 'refused'> &
  Readonly<Record<'read' | 'accepted' | 'refused', Count>>;

export type PublishedProblem = Omit<ProblemCount, 'count'> & { readonly count: Count };

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
  readonly files: readonly PublishedRows[];
  /** Counts alone: no value, no line, no code. */
  readonly problems: readonly PublishedProblem[];
  /** SHA-256 of the plan in canonical form. */
  readonly planSha256: string;
  /** SHA-256 of the mapping file that the export was read through, if there was one. */
  readonly mappingSha256?: string;
  /** Files behind the tables, where a table is not simply the file of its name; corrected rows and their lists too. */
  readonly sources?: readonly HashedFile[];
}

export interface HashedFile {
  readonly file: string;
  readonly sha256: string;
}

/** What is known of the making of a report from the records read and the plan used. */
export function provenanceOf(
  records: Pick<
    ExportRecords,
    | 'service'
    | 'cutOff'
    | 'cutOffGiven'
    | 'exportedAt'
    | 'problemCounts'
    | 'counts'
    | 'sources'
    | 'mappingSha256'
    | 'setAsideLists'
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
    ...(records.mappingSha256 === undefined ? {} : { mappingSha256: records.mappingSha256 }),
    ...sourcesOf(records),
  };
}

/** Sheets of one workbook are one file. */
function sourcesOf({
  sources = [],
  setAsideLists = [],
}: Pick<ExportRecords, 'sources' | 'setAsideLists'>): Pick<Provenance, 'sources'> {
  const files = new Map<string, HashedFile>();
  for (const { file, sheet, sha256: hash } of [
    ...sources,
    ...setAsideLists.map(list => ({ ...list, sheet: undefined })),
  ]) {
    const name = sheet === undefined ? file : file.slice(0, -` (${sheet})`.length);
    files.set(name, { file: name, sha256: hash });
  }
  return files.size === 0 ? {} : { sources: [...files.values()] };
}

/** Rows of all files together; hidden where any of them is. */
export function rowsInAll(provenance: Provenance, field: 'read' | 'accepted' | 'refused'): Count {
  const counts = provenance.files.map(file => file[field]);
  return counts.some(isHidden) ? WITHHELD : counts.reduce<number>((sum, count) => sum + Number(count), 0);
}
