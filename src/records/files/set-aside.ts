import { readFile, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import * as z from 'zod';
import { sha256 } from '../../plan/sha256.ts';
import { DICTIONARY } from '../dictionary.ts';
import { badSetAside } from '../problems/files.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import { kindOfEntry } from './inspect.ts';

/** The file of a quarantine that says which rows of which files it holds. */
export const SET_ASIDE = 'set-aside.json';

const LONGEST = 64 * 1_048_576;
/** The name of a file in the folder itself. */
const fileName = z
  .string()
  .regex(/^[^/\\\0]+$/)
  .refine(name => name !== '.' && name !== '..');

const schema = z.strictObject({
  version: z.literal(1),
  files: z.array(
    z.strictObject({
      /** File whose rows were set aside, and the hash of its bytes. */
      file: z.string(),
      sha256: z.string().regex(/^[0-9a-f]{64}$/),
      sheet: z.string().optional(),
      /** First and last line of each row set aside, in order. */
      lines: z.array(z.tuple([z.int().min(1), z.int().min(1)])),
      /** File of the quarantine that holds them. */
      rows: fileName,
    }),
  ),
});

export type SetAside = z.infer<typeof schema>;

/** Rows that were set aside, corrected, and are to be read in the place of the others. */
export interface Corrections {
  /** Files to read beside a file of the export, by its name. */
  filesFor(file: string): readonly CorrectedFile[];
  /** Whether a line of a file begins a row that was set aside. */
  isSetAside(sha256: string, sheet?: string): (line: number) => boolean;
  /** Files of which rows were set aside, but whose bytes were not met. */
  unmet(met: ReadonlySet<string>): readonly string[];
  /** The lists that say which rows were set aside, and their hashes. */
  readonly lists: readonly { readonly file: string; readonly sha256: string }[];
}

export interface CorrectedFile {
  readonly path: string;
  /** As problems name it. */
  readonly label: string;
}

/**
 * Reads what some folders of corrected rows hold. A folder without `set-aside.json` adds rows and replaces none.
 *
 * @throws UnusableExport if a folder is none or its list cannot be read
 */
export async function readCorrections(folders: readonly string[]): Promise<Corrections> {
  const files: { readonly of: string; readonly corrected: CorrectedFile }[] = [];
  const listed: SetAside['files'][number][] = [];
  const lists: { file: string; sha256: string }[] = [];
  for (const folder of folders) {
    const read = await readList(folder);
    const list = read?.list;
    if (read !== undefined) lists.push({ file: `${basename(folder)}/${SET_ASIDE}`, sha256: read.sha256 });
    const names = list?.files.map(({ file, rows }) => ({ of: basename(file), rows })) ?? [];
    const all =
      list === undefined
        ? TABLE_NAMES.map(name => ({ of: DICTIONARY[name].file, rows: DICTIONARY[name].file }))
        : names;
    for (const { of, rows } of all) {
      const path = join(folder, rows);
      if ((await kindOfEntry(path)) !== 'file') continue;
      files.push({ of, corrected: { path, label: `${basename(folder)}/${rows}` } });
    }
    listed.push(...(list?.files ?? []));
  }
  const starts = new Map<string, Set<number>>();
  for (const { sha256, sheet, lines } of listed) {
    const known = starts.get(bytesOf(sha256, sheet)) ?? new Set<number>();
    for (const [first] of lines) known.add(first);
    starts.set(bytesOf(sha256, sheet), known);
  }
  return {
    filesFor: file => files.filter(({ of }) => of === file).map(({ corrected }) => corrected),
    isSetAside(sha256, sheet) {
      const lines = starts.get(bytesOf(sha256, sheet));
      return line => lines?.has(line) ?? false;
    },
    unmet: met => listed.filter(({ sha256 }) => !met.has(sha256)).map(({ file }) => file),
    lists,
  };
}

/** Sheets of one workbook have the same bytes. */
const bytesOf = (sha256: string, sheet = ''): string => `${sha256} ${sheet}`;

async function readList(
  folder: string,
): Promise<{ readonly list: SetAside; readonly sha256: string } | undefined> {
  const label = `${basename(folder)}/${SET_ASIDE}`;
  if (!((await stat(folder).catch(() => undefined))?.isDirectory() ?? false)) {
    throw new UnusableExport([badSetAside(folder, 'is not a folder', 'a folder of corrected rows')]);
  }
  const path = join(folder, SET_ASIDE);
  if ((await kindOfEntry(path)) !== 'file') return undefined;
  const { size } = await stat(path);
  const text = size > LONGEST ? '' : await readFile(path, 'utf8');
  const read = schema.safeParse(parsed(text));
  if (!read.success) {
    throw new UnusableExport([badSetAside(label, 'cannot be read', 'the file as --quarantine wrote it')]);
  }
  return { list: read.data, sha256: sha256(text) };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}
