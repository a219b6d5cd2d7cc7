import { readdir } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { draftMapping } from '../mapping/draft/draft-mapping.ts';
import type { Draft, DraftPart } from '../mapping/draft/draft-mapping.ts';
import { draftSource } from '../mapping/draft/draft-source.ts';
import type { SourceSpec } from '../mapping/mapping.ts';
import { noSuchFolder } from '../problems/files.ts';
import type { TableName } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import { inspect, kindOfEntry } from './inspect.ts';
import type { SourceRow } from './source-row.ts';
import { likelyDelimiter, openSource } from './source-rows.ts';
import { openWorkbook } from './workbook.ts';

/** Distinct texts of a column that are looked at. */
const MOST_TEXTS = 5000;
const TABULAR = new Set(['.csv', '.txt', '.tsv']);

/** Drafts a mapping by going through every file of an export folder once; nothing in it is changed. */
export async function draftFolder(folder: string): Promise<Draft> {
  const names = await readdir(folder).catch(() => {
    throw new UnusableExport([noSuchFolder(folder)]);
  });
  const parts: DraftPart[] = [];
  for (const file of names.sort()) {
    const path = join(folder, file);
    if ((await kindOfEntry(path)) !== 'file') continue;
    const extension = extname(file).toLowerCase();
    if (TABULAR.has(extension)) parts.push(await draftText(path, file));
    else if (extension === '.ndjson') parts.push(await draftFhir(path, file));
    else if (extension === '.xlsx') {
      const book = await openWorkbook(path, file);
      for (const sheet of book.sheets) {
        const name = nameOf(book.sheets.length === 1 ? file : sheet);
        parts.push(await draftRows(path, name, { file, sheet }, []));
      }
    }
  }
  return draftMapping(parts);
}

async function draftText(path: string, file: string): Promise<DraftPart> {
  const name = nameOf(file);
  if ((await inspect(path, 'utf-8')).readable) return draftRows(path, name, { file }, []);
  if ((await inspect(path, 'utf-16')).readable)
    return draftRows(path, name, { file, encoding: 'utf-16' }, []);
  const question = 'the file is not in UTF-8; is it in windows-1252, as drafted';
  return draftRows(path, name, { file, encoding: 'windows-1252' }, [
    { where: `${name} (encoding)`, question },
  ]);
}

async function draftRows(
  path: string,
  name: string,
  spec: SourceSpec,
  unsettled: DraftPart['unsettled'],
): Promise<DraftPart> {
  const { sampled, top } = await sample(path, name, spec);
  const drafted = draftSource(sampled);
  if (drafted.blocks.length > 0) return { name, spec: { ...spec }, drafted, unsettled };
  const line = headerBelow(name, top);
  if (line === undefined) return { name, spec: { ...spec }, drafted, unsettled };
  const below = { ...spec, header: line };
  const again = draftSource((await sample(path, name, below)).sampled);
  const notes = [`${name}: the columns are named on line ${line}; what stands above is passed over`];
  return {
    name,
    spec: { ...below },
    drafted: { ...again, notes: [...notes, ...again.notes] },
    unsettled,
  };
}

/** Rows at the top of a file among which the header is looked for. */
const TOP = 20;

/** The distinct texts of every column of a file, and its first rows. */
async function sample(path: string, name: string, spec: SourceSpec) {
  const source = await openSource(path, spec.file, spec);
  const top: SourceRow[] = [];
  let header: readonly string[] = [];
  let values: Map<string, number>[] = [];
  await source.read('episodes', {
    header(row) {
      top.push(row);
      header = row.cells;
      values = row.cells.map(() => new Map<string, number>());
    },
    row(row) {
      if (top.length < TOP) top.push(row);
      for (const [k, seen] of values.entries()) {
        const text = row.cells[k]?.trim() ?? '';
        if (text !== '' && (seen.size < MOST_TEXTS || seen.has(text)))
          seen.set(text, (seen.get(text) ?? 0) + 1);
      }
    },
    other() {},
    badRow() {},
    broken() {},
  });
  return { sampled: { name, header, values }, top };
}

/** The line of the first row below the top one that names columns of a table, as under the title of a sheet. */
function headerBelow(name: string, top: readonly SourceRow[]): number | undefined {
  const found = top.slice(1).find(({ cells }) => {
    // A title without a separator hides which one the rows below it have.
    const [only = ''] = cells;
    const header = cells.length > 1 ? cells : only.split(likelyDelimiter(only));
    return draftSource({ name, header, values: [] }).blocks.length > 0;
  });
  return found?.line;
}

async function draftFhir(path: string, file: string): Promise<DraftPart> {
  const source = await openSource(path, file, { file });
  const tables: TableName[] = [];
  for (const table of TABLE_NAMES) {
    let rows = 0;
    const ignore = (): void => {};
    await source.read(table, {
      header: ignore,
      row: () => void rows++,
      other: ignore,
      badRow: ignore,
      broken: ignore,
    });
    if (rows > 0) tables.push(table);
  }
  return { name: nameOf(file), spec: { file }, drafted: tables, unsettled: [] };
}

function nameOf(file: string): string {
  const stem = file.replace(/\.[^.]*$/, '');
  return stem.replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase() || 'source';
}
