import { join } from 'node:path';
import type { Plan } from '../../plan/plan.ts';
import { sha256 } from '../../plan/sha256.ts';
import { DICTIONARY } from '../dictionary.ts';
import { changedSinceSetAside, fewerRowsBack, symbolicLink } from '../problems/files.ts';
import type { OriginFile } from '../reading/origins.ts';
import { startReading } from '../reading/read-export.ts';
import type { ReadSource } from '../reading/source-files.ts';
import type { ExportRecords } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import { inspect, kindOfEntry } from './inspect.ts';
import { refuseLinkedDescription } from './description-file.ts';
import { readTableFile } from './read-table-file.ts';
import { whyAbsent } from './why-absent.ts';
import { readCorrections } from './set-aside.ts';

export interface CorrectedOptions {
  readonly plan: Plan;
  readonly onProgress: (file: string, rows: number) => void;
  readonly corrected: readonly string[];
  readonly description: string | undefined;
}

/** Reads an export of which some rows were set aside, corrected, and now take the place of the others. */
export async function readWithCorrections(folder: string, options: CorrectedOptions): Promise<ExportRecords> {
  const corrections = await readCorrections(options.corrected);
  const reading = startReading(options.plan, options.description, { numbered: true });
  await refuseLinkedDescription(folder, reading.problems);
  const sources: ReadSource[] = [];
  const met = new Set<string>();
  for (const name of TABLE_NAMES) {
    const { file, fields } = DICTIONARY[name];
    const own = { path: join(folder, file), label: file };
    const entry = await kindOfEntry(own.path);
    const files = [...(entry === 'file' ? [own] : []), ...corrections.filesFor(file)];
    if (files.length === 0) {
      reading.absent(name, await whyAbsent(folder, file));
      continue;
    }
    if (entry === 'link') reading.problems.add(symbolicLink(file));
    const reader = reading.open(name);
    const hashes: string[] = [];
    let asideOfTable = 0;
    let back = 0;
    for (const { path, label } of files) {
      const bytes = await inspect(path);
      const before = reader.rowsSoFar;
      const origin: OriginFile = { label, columns: fields.map(field => field.name), allowed: [] };
      reader.nextFile(origin, corrections.isSetAside(bytes.sha256));
      met.add(bytes.sha256);
      hashes.push(await readTableFile(path, label, name, reader, options.onProgress, bytes));
      const rows = reader.rowsSoFar - before;
      asideOfTable += reader.setAside;
      if (label !== file) back += rows + reader.setAside;
      sources.push({
        file: label,
        path,
        sheet: undefined,
        sha256: bytes.sha256,
        header: reader.headerLines,
        rows,
        setAside: reader.setAside,
        unused: 0,
      });
    }
    if (back < asideOfTable) reading.problems.add(fewerRowsBack(file, asideOfTable, back));
    reading.close(
      hashes.length === 1 ? (hashes[0] ?? '') : sha256(hashes.join('\n')),
      files.map(({ label }) => label).join(' + '),
    );
  }
  const unmet = corrections.unmet(met);
  if (unmet.length > 0) throw new UnusableExport(unmet.map(changedSinceSetAside));
  return {
    ...reading.finish(sources),
    ...(corrections.lists.length === 0 ? {} : { setAsideLists: corrections.lists }),
  };
}
