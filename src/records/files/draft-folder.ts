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
import { openSource } from './source-rows.ts';
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
  const source = await openSource(path, spec.file, spec);
  let header: readonly string[] = [];
  let values: Map<string, number>[] = [];
  await source.read('episodes', {
    header({ cells }) {
      header = cells;
      values = cells.map(() => new Map<string, number>());
    },
    row({ cells }) {
      for (const [k, seen] of values.entries()) {
        const text = cells[k]?.trim() ?? '';
        if (text !== '' && (seen.size < MOST_TEXTS || seen.has(text)))
          seen.set(text, (seen.get(text) ?? 0) + 1);
      }
    },
    other() {},
    badRow() {},
    broken() {},
  });
  return { name, spec: { ...spec }, drafted: draftSource({ name, header, values }), unsettled };
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
