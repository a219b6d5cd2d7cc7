import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Plan } from '../../plan/plan.ts';
import { defaultPlan } from '../../plan/plan.ts';
import { DICTIONARY } from '../dictionary.ts';
import type { Mapping } from '../mapping/mapping.ts';
import { noSuchFolder } from '../problems/files.ts';
import { startReading } from '../reading/read-export.ts';
import type { ExportRecords } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import { descriptionText, refuseLinkedDescription } from './description-file.ts';
import { kindOfEntry } from './inspect.ts';
import { readMapped } from './read-mapped.ts';
import { readTableFile } from './read-table-file.ts';
import { whyAbsent } from './why-absent.ts';
import { readWithCorrections } from './read-with-corrections.ts';

export interface ReadFolderOptions {
  /** Its phases are those that `prescribed_hours` may hold; the default plan if left out. */
  readonly plan?: Plan;
  /** Called now and then with the rows of a file read so far. */
  readonly onProgress?: (file: string, rows: number) => void;
  /** Turns the files of the folder into the tables of the dictionary; they have its layout if left out. */
  readonly mapping?: Mapping;
  /** Folders of corrected rows, as `writeQuarantine` made them, read in the place of those that were set aside. */
  readonly corrected?: readonly string[];
}

/**
 * Reads and checks an export folder: CSV files in UTF-8 with or without byte order mark, any line ends, separated by
 * comma, semicolon or tab (told from the header of each file), or whatever a mapping says. Nothing in the folder is
 * changed, no symbolic link in it is followed, and no more than a chunk of a file is held besides its columns.
 *
 * @throws UnusableExport if there is no such folder, no episodes.csv, or none of its required columns
 */
export async function readExport(folder: string, options: ReadFolderOptions = {}): Promise<ExportRecords> {
  const { plan = defaultPlan(), onProgress = () => {}, mapping, corrected = [] } = options;
  if (!(await isFolder(folder))) throw new UnusableExport([noSuchFolder(folder)]);
  const description = await descriptionText(folder);
  if (mapping !== undefined) return readMapped(folder, { plan, onProgress, mapping, corrected, description });
  if (corrected.length > 0) return readWithCorrections(folder, { plan, onProgress, corrected, description });
  const reading = startReading(plan, description);
  await refuseLinkedDescription(folder, reading.problems);
  for (const name of TABLE_NAMES) {
    const { file } = DICTIONARY[name];
    const path = join(folder, file);
    const entry = await kindOfEntry(path);
    if (entry !== 'file') {
      reading.absent(name, await whyAbsent(folder, file));
      continue;
    }
    const reader = reading.open(name);
    reading.close(await readTableFile(path, file, name, reader, onProgress));
  }
  return reading.finish();
}

async function isFolder(path: string): Promise<boolean> {
  return (await stat(path).catch(() => undefined))?.isDirectory() ?? false;
}
