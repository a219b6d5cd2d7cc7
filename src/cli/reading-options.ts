import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import type { Command } from 'commander';
import type { Plan } from '../plan/plan.ts';
import { readExport } from '../records/files/read-folder.ts';
import type { Mapping } from '../records/mapping/mapping.ts';
import { MappingError, readMapping } from '../records/mapping/read-mapping.ts';
import type { ExportRecords } from '../records/records.ts';
import { counted } from './columns.ts';
import { UserError } from './command.ts';
import { planFrom } from './plan-option.ts';
import type { Progress } from './progress.ts';

/** How an export is to be read, as the options of a command say. */
export interface ReadingOptions {
  readonly plan?: string;
  readonly mapping?: string;
  readonly with?: readonly string[];
}

/** Adds the options that every command has that reads an export. */
export function withReadingOptions(command: Command): Command {
  return command
    .option('--plan <file>', 'analysis plan in YAML (default: the built-in plan)')
    .option('--mapping <file>', 'how the files of the clinic become those of the dictionary, in YAML')
    .option(
      '--with <folder>',
      'read the corrected rows of a quarantine in the place of those set aside (may be given again)',
      (folder: string, others: readonly string[] | undefined) => [...(others ?? []), folder],
    );
}

/** Reads an export as the options say. */
export async function readAsAsked(
  folder: string,
  options: ReadingOptions,
  shown: Progress,
): Promise<{ readonly records: ExportRecords; readonly plan: Plan }> {
  const plan = await planFrom(options.plan);
  const mapping = await mappingFrom(options.mapping);
  shown.say(`Reading ${folder}`);
  const records = await readExport(folder, {
    plan,
    ...(mapping === undefined ? {} : { mapping }),
    corrected: options.with ?? [],
    onProgress: (file, rows) => shown.say(`Reading ${file}: ${counted(rows, 'row')}`),
  });
  return { records, plan };
}

const LONGEST = 4 * 1_048_576;

async function mappingFrom(path: string | undefined): Promise<Mapping | undefined> {
  if (path === undefined) return undefined;
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    const reason = error instanceof Error && 'code' in error ? String(error.code) : 'unknown reason';
    throw new UserError(`the mapping ${path} cannot be read (${reason}); allowed: a YAML file`);
  });
  if (text.length > LONGEST) throw new MappingError(`${basename(path)}: is longer than 4 MiB`);
  return readMapping(text, basename(path));
}
