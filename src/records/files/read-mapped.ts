import { join } from 'node:path';
import type { Plan } from '../../plan/plan.ts';
import { sha256 } from '../../plan/sha256.ts';
import { DICTIONARY } from '../dictionary.ts';
import type { PlainBlock } from '../mapping/blocks.ts';
import { repeated } from '../mapping/blocks.ts';
import { descriptionOf } from '../mapping/description.ts';
import { requireCodesOfNoPerson } from '../mapping/identifying.ts';
import type { Block, Mapping } from '../mapping/mapping.ts';
import type { ProblemCollector } from '../problems/collector.ts';
import { changedSinceSetAside, fewerRowsBack, missingSource, symbolicLink } from '../problems/files.ts';
import { startReading } from '../reading/read-export.ts';
import type { ExportRecords } from '../records.ts';
import { TABLE_NAMES } from '../records.ts';
import { UnusableExport } from '../unusable-export.ts';
import { refuseLinkedDescription } from './description-file.ts';
import { kindOfEntry } from './inspect.ts';
import type { MappedFile } from './mapped-file.ts';
import { mappedFile } from './mapped-file.ts';
import type { CorrectedOptions } from './read-with-corrections.ts';
import { readCorrections } from './set-aside.ts';
import type { Corrections } from './set-aside.ts';
import { openSource } from './source-rows.ts';

export interface MappedOptions extends CorrectedOptions {
  readonly plan: Plan;
  readonly mapping: Mapping;
}

/** Reads an export through a mapping: every file is gone through once for each table that is made of it. */
export async function readMapped(folder: string, options: MappedOptions): Promise<ExportRecords> {
  const { mapping, plan, onProgress } = options;
  requireCodesOfNoPerson(mapping);
  const corrections = await readCorrections(options.corrected);
  const description = options.description ?? descriptionOf(mapping);
  const reading = startReading(plan, description, { numbered: true });
  await refuseLinkedDescription(folder, reading.problems);
  const files = await openFiles(folder, mapping, corrections);
  for (const name of TABLE_NAMES) {
    const blocks = mapping.tables[name];
    if (blocks === undefined) {
      reading.absent(name);
      continue;
    }
    const reader = reading.open(name);
    const used: MappedFile[] = [];
    for (const [from, own] of bySource(blocks)) {
      for (const file of files.get(from) ?? []) {
        await file.read(name, own, reader, reading.problems, onProgress);
        used.push(file);
      }
    }
    const hashes = used.map(file => file.sha256);
    const label = used.map(file => file.label).join(' + ');
    reading.close(
      hashes.length === 1 ? (hashes[0] ?? '') : sha256(hashes.join('\n')),
      label || DICTIONARY[name].file,
    );
  }
  const all = [...files.values()].flat();
  for (const file of all) file.tellColumns(reading.problems);
  tellOfMissingRows(files, reading.problems);
  const unmet = corrections.unmet(new Set(all.map(file => file.sha256)));
  if (unmet.length > 0) throw new UnusableExport(unmet.map(changedSinceSetAside));
  return {
    ...reading.finish(all.map(file => file.source())),
    ...(mapping.sha256 === undefined ? {} : { mappingSha256: mapping.sha256 }),
    ...(corrections.lists.length === 0 ? {} : { setAsideLists: corrections.lists }),
  };
}

/** The files of every source: that of the export, then those of corrected rows. */
async function openFiles(
  folder: string,
  mapping: Mapping,
  corrections: Corrections,
): Promise<ReadonlyMap<string, readonly MappedFile[]>> {
  const files = new Map<string, readonly MappedFile[]>();
  for (const [name, spec] of Object.entries(mapping.sources)) {
    const path = join(folder, spec.file);
    const entry = await kindOfEntry(path);
    if (entry === 'link') throw new UnusableExport([symbolicLink(spec.file)]);
    if (entry === 'other') throw new UnusableExport([missingSource(spec.file)]);
    const label = spec.sheet === undefined ? spec.file : `${spec.file} (${spec.sheet})`;
    const own = { path, label };
    const opened: MappedFile[] = [];
    for (const file of [own, ...corrections.filesFor(label)]) {
      // Corrected rows stand right under their header.
      const { header: _, ...asCorrected } = spec;
      const source = await openSource(file.path, file.label, file === own ? spec : asCorrected);
      const isSetAside = corrections.isSetAside(source.sha256, source.sheet);
      const values = { ...mapping.values, ...spec };
      opened.push(mappedFile(file, source, isSetAside, values, file !== own));
    }
    files.set(name, opened);
  }
  return files;
}

/** Blocks by the source that they read from, without repetitions, in the order of their first appearance. */
function bySource(blocks: readonly Block[]): ReadonlyMap<string, readonly PlainBlock[]> {
  const found = new Map<string, PlainBlock[]>();
  for (const block of blocks) {
    const known = found.get(block.from);
    if (known === undefined) found.set(block.from, [...repeated(block)]);
    else known.push(...repeated(block));
  }
  return found;
}

function tellOfMissingRows(
  files: ReadonlyMap<string, readonly MappedFile[]>,
  problems: ProblemCollector,
): void {
  for (const [own, ...corrected] of files.values()) {
    if (own === undefined) continue;
    const sources = [own, ...corrected].map(file => file.source());
    const aside = sources.reduce((sum, { setAside }) => sum + setAside, 0);
    const back = sources.slice(1).reduce((sum, { rows, setAside }) => sum + rows + setAside, 0);
    if (back < aside) problems.add(fewerRowsBack(own.label, aside, back));
  }
}
