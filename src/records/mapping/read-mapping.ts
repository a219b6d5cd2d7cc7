import { parse } from 'yaml';
import { sha256 } from '../../plan/sha256.ts';
import type { Mapping } from './mapping.ts';
import { mappingSchema } from './mapping.ts';

/** A mapping that cannot be used; the message names everything that is wrong, one a line. */
export class MappingError extends Error {
  override readonly name = 'MappingError';
}

/**
 * Reads a mapping in YAML, and notes the SHA-256 of its text (in UTF-8), which reports carry.
 *
 * @throws MappingError naming the place and what is allowed; also while questions are unsettled
 */
export function readMapping(text: string, file = 'mapping.yaml'): Mapping {
  const read = mappingSchema.safeParse(parsed(text, file));
  if (!read.success) {
    throw new MappingError(
      read.error.issues.map(issue => `${file}: ${placeOf(issue.path)}${issue.message}`).join('\n'),
    );
  }
  const mapping = read.data;
  const faults = [...unsettled(mapping), ...unknownSources(mapping), ...oddSources(mapping)];
  if (faults.length > 0) throw new MappingError(faults.map(fault => `${file}: ${fault}`).join('\n'));
  return { ...mapping, sha256: sha256(text) };
}

function parsed(text: string, file: string): unknown {
  try {
    // The core schema keeps dates as text; no alias is followed, so that a small file cannot grow large.
    return parse(text, { schema: 'core', maxAliasCount: 0, logLevel: 'silent' }) as unknown;
  } catch (error) {
    const reason = error instanceof Error ? (error.message.split('\n')[0] ?? '') : '';
    throw new MappingError(`${file}: is not YAML (${reason})`);
  }
}

function unsettled({ unsettled = [] }: Mapping): string[] {
  return unsettled.map(({ where, question }) => `unsettled: ${where}: ${question}`);
}

function unknownSources({ sources, tables }: Mapping): string[] {
  const known = Object.keys(sources);
  return Object.entries(tables).flatMap(([table, blocks]) =>
    (blocks ?? [])
      .filter(({ from }) => !known.includes(from))
      .map(({ from }) => `tables.${table}: there is no source "${from}"; allowed: ${known.join(', ')}`),
  );
}

function oddSources({ sources }: Mapping): string[] {
  return Object.entries(sources).flatMap(([name, source]) => {
    const format = source.format ?? formatOf(source.file);
    if (format === 'xlsx' && source.sheet === undefined) return [`sources.${name}: a workbook needs a sheet`];
    if (format !== 'csv' && source.encoding !== undefined)
      return [`sources.${name}: only CSV has an encoding`];
    return [];
  });
}

/** The format of a file by the end of its name. */
export function formatOf(file: string): 'csv' | 'xlsx' | 'fhir' {
  if (/\.xlsx$/i.test(file)) return 'xlsx';
  return /\.ndjson$/i.test(file) ? 'fhir' : 'csv';
}

function placeOf(path: readonly PropertyKey[]): string {
  const place = path
    .map((step, i) => (typeof step === 'number' ? `[${step}]` : `${i === 0 ? '' : '.'}${String(step)}`))
    .join('');
  return place === '' ? '' : `${place}: `;
}
