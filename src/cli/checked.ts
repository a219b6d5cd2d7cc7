import { isoDate } from '../records/calendar-date.ts';
import type { ExportRecords, Problem, SourceFile } from '../records/records.ts';
import { TABLE_NAMES } from '../records/records.ts';
import type { UnusableExport } from '../records/unusable-export.ts';
import { alignedColumns, counted, grouped } from './columns.ts';

/** Whether a row, or anything else in the export, was refused. */
export function refusedAnything(records: ExportRecords): boolean {
  return records.problemCounts.some(({ severity }) => severity === 'refused');
}

/** What a check found, as text: rows of each file, kinds of problems, then up to `show` problems one by one. */
export function checkedText(records: ExportRecords, show: number): string {
  const parts = [about(records), rowsByFile(records)];
  const sources = rowsBySource(records);
  if (sources !== '') parts.push(sources);
  const extra = extraColumns(records);
  if (extra !== '') parts.push(extra);
  parts.push(...problemList(records, show));
  return `${parts.join('\n\n')}\n`;
}

function about({ service, cutOff, cutOffGiven }: ExportRecords): string {
  const source = cutOffGiven ? 'given in export.yaml' : 'the latest date in the data';
  const lines = service === undefined ? [] : [`Service: ${service}`];
  return [...lines, `Data cut-off: ${isoDate(cutOff)} (${source})`].join('\n');
}

function rowsByFile({ counts, sources }: ExportRecords): string {
  const rows = TABLE_NAMES.map(name => {
    const { file, read, accepted, refused } = counts[name];
    // Several tables may be made of one file.
    const label = sources === undefined ? file : `${name}: ${file}`;
    return [label, grouped(read), grouped(accepted), grouped(refused)];
  });
  return alignedColumns([['file', 'rows read', 'accepted', 'refused'], ...rows]);
}

/** What became of the rows of each file, where a table is not simply the file of its name. */
function rowsBySource({ sources = [] }: ExportRecords): string {
  if (sources.length === 0) return '';
  const rows = sources.map(({ file, rows, setAside, unused, refusedLines }) => [
    file,
    ...[rows, setAside, unused, refusedLines.length / 2].map(grouped),
  ]);
  return alignedColumns([['read from', 'rows', 'set aside before', 'in no table', 'refused'], ...rows]);
}

function extraColumns({ counts }: ExportRecords): string {
  return TABLE_NAMES.filter(name => counts[name].extraColumns.length > 0)
    .map(name => `${counts[name].file}: columns kept out: ${someOf(counts[name].extraColumns)}`)
    .join('\n');
}

const MOST_COLUMNS_NAMED = 30;

function someOf(names: readonly string[]): string {
  const more = names.length - MOST_COLUMNS_NAMED;
  const shown = names.slice(0, MOST_COLUMNS_NAMED).join(', ');
  return more > 0 ? `${shown} and ${grouped(more)} more` : shown;
}

function problemList(records: ExportRecords, show: number): string[] {
  const all = count(records, 'refused') + count(records, 'warning');
  if (all === 0) return ['No problems found.'];
  const kinds = records.problemCounts.map(({ file, kind, severity, count }) => [
    file,
    kind,
    severity,
    grouped(count),
  ]);
  const refused = counted(count(records, 'refused'), 'problem');
  const warnings = counted(count(records, 'warning'), 'warning');
  const shown = someOfEachKind(records.problems, show);
  const parts = [`Found: ${refused} for which data were refused, ${warnings}.\n${alignedColumns(kinds, 3)}`];
  if (shown.length > 0) {
    parts.push(shown.map(({ severity, message }) => `${severity}: ${message}`).join('\n'));
  }
  if (shown.length < all) {
    parts.push(`${grouped(all - shown.length)} more not printed; --show prints more, --json lists them.`);
  }
  return parts;
}

function count({ problemCounts }: ExportRecords, severity: Problem['severity']): number {
  return problemCounts.reduce((sum, entry) => sum + (entry.severity === severity ? entry.count : 0), 0);
}

/**
 * As many problems as asked for, in the order of severity, file and line. Where not all fit, every kind has its turn, so
 * that a kind found in thousands of rows does not crowd out the others.
 */
function someOfEachKind(problems: readonly Problem[], show: number): readonly Problem[] {
  const seen = new Map<string, number>();
  const ranked = problems.map((problem, found) => {
    const key = `${problem.file}\n${problem.kind}`;
    const rank = seen.get(key) ?? 0;
    seen.set(key, rank + 1);
    return { problem, found, rank };
  });
  const files = [...new Set(problems.map(({ file }) => file))];
  const place = new Map(files.map((file, i) => [file, i]));
  return ranked
    .sort((a, b) => a.rank - b.rank || severityRank(a.problem) - severityRank(b.problem) || a.found - b.found)
    .slice(0, show)
    .sort(
      (a, b) =>
        severityRank(a.problem) - severityRank(b.problem) ||
        (place.get(a.problem.file) ?? 0) - (place.get(b.problem.file) ?? 0) ||
        (a.problem.line ?? 0) - (b.problem.line ?? 0) ||
        a.found - b.found,
    )
    .map(({ problem }) => problem);
}

function severityRank({ severity }: Problem): number {
  return severity === 'refused' ? 0 : 1;
}

/** What a check found, as a JSON document. */
export function checkedJson(records: ExportRecords): string {
  const { service, cutOff, cutOffGiven, exportedAt, counts, problemCounts, problems, sources } = records;
  return json({
    version: 1,
    usable: true,
    service,
    cutOff: isoDate(cutOff),
    cutOffGiven,
    exportedAt,
    files: TABLE_NAMES.map(name => ({ table: name, ...counts[name] })),
    problemCounts,
    problems,
    ...(sources === undefined ? {} : { sources: sources.map(withoutPath) }),
  });
}

function withoutPath({ file, sheet, sha256, rows, setAside, unused, refusedLines }: SourceFile): object {
  return { file, sheet, sha256, rows, setAside, unused, refused: refusedLines.length / 2 };
}

/** Why an export cannot be used, as a JSON document. */
export function unusableJson({ problems }: UnusableExport): string {
  return json({ version: 1, usable: false, problems });
}

function json(document: unknown): string {
  return `${JSON.stringify(document, undefined, 2)}\n`;
}
