import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';

/** A reference value file: values at full precision with the call, package and version that made them. */
export interface ReferenceFile {
  readonly dataset: string;
  readonly call: string;
  readonly rPackage: string;
  readonly version: string;
  readonly notes?: string;
  readonly values: unknown;
}

export function referenceValues(name: string): ReferenceFile {
  return JSON.parse(readFileSync(new URL(`values/${name}.json`, import.meta.url), 'utf8')) as ReferenceFile;
}

/** An open dataset as rows of text; a missing value is an empty cell. */
export function dataset(name: string): readonly Readonly<Record<string, string>>[] {
  const text = readFileSync(new URL(`datasets/${name}.csv`, import.meta.url), 'utf8');
  return parse<Record<string, string>>(text, { columns: true, skip_empty_lines: true });
}

export function numbers(rows: readonly Readonly<Record<string, string>>[], field: string): number[] {
  return rows.map(row => {
    const text = row[field];
    if (text === undefined || text === '')
      throw new Error(`${field} has a missing value; filter the rows first`);
    return Number(text);
  });
}
