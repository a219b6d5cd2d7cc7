import {
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { TABLE_NAMES, type TableName } from '../../records/records.ts';
import { DICTIONARY } from '../../records/dictionary.ts';
import { dataPackage } from '../../records/dictionary/data-package.ts';
import { exportDescription } from '../export-description.ts';
import { plantFlaws } from '../flaws.ts';
import { cutOffDay, generateLines } from '../generate.ts';
import { jsonText } from '../json-text.ts';
import type { Scenario } from '../scenario.ts';
import { scenarioText } from '../scenario-text.ts';
import { stream } from '../streams.ts';
import { COLUMNS, emptyLines, type TableLines } from '../tables.ts';
import { truthOf } from '../truth.ts';

/** Characters gathered before they are written: large enough for few writes, small enough for flat memory. */
const BLOCK = 1 << 20;
/** With flaws, the whole export is held in memory while they are planted. */
const MOST_FEET_WITH_FLAWS = 20_000;

export interface WrittenExport {
  readonly folder: string;
  readonly rows: Readonly<Record<TableName, number>>;
  readonly infants: number;
  readonly planted: number;
}

export interface WriteOptions {
  readonly feet: number;
  readonly seed: number;
  /** A folder with something in it is replaced rather than refused. */
  readonly replace: boolean;
  readonly progress?: (feetDone: number) => void;
}

/** The output folder is taken, or is no folder. */
export class FolderTaken extends Error {
  override readonly name = 'FolderTaken';
}

interface TableFile {
  readonly add: (lines: readonly string[]) => void;
  readonly close: () => void;
  readonly rows: () => number;
}

function tableFile(folder: string, table: TableName): TableFile {
  const file = openSync(join(folder, `${table}.csv`), 'w');
  let text = `${COLUMNS[table].join(',')}\n`;
  let rows = 0;
  const flush = () => {
    // A write may take less than it was given.
    const bytes = Buffer.from(text);
    for (let done = 0; done < bytes.length; ) done += writeSync(file, bytes, done);
    text = '';
  };
  return {
    add: lines => {
      rows += lines.length;
      for (const line of lines) text += `${line}\n`;
      if (text.length > BLOCK) flush();
    },
    close: () => {
      flush();
      closeSync(file);
    },
    rows: () => rows,
  };
}

function writeTables(scenario: Scenario, options: WriteOptions, folder: string) {
  const files = {
    episodes: tableFile(folder, 'episodes'),
    assessments: tableFile(folder, 'assessments'),
    phases: tableFile(folder, 'phases'),
    wear: tableFile(folder, 'wear'),
    events: tableFile(folder, 'events'),
  };
  const write = (lines: TableLines) => {
    for (const table of TABLE_NAMES) files[table].add(lines[table]);
  };
  const { eachKind } = scenario.flaws;
  const all = emptyLines();
  let infants = 0;
  let planted = 0;
  try {
    generateLines(scenario, options.feet, options.seed, (lines, feetDone) => {
      infants += 1;
      if (eachKind === 0) write(lines);
      else for (const table of TABLE_NAMES) all[table].push(...lines[table]);
      options.progress?.(feetDone);
    });
    if (eachKind > 0) {
      const flaws = plantFlaws(all, eachKind, cutOffDay(scenario), stream(options.seed, 0, 'flaws'));
      planted = flaws.length;
      write(all);
      const list = flaws.map(flaw => [flaw.file, flaw.line, flaw.field, flaw.kind].join(','));
      writeFileSync(
        join(folder, 'planted-problems.csv'),
        `${['file,line,field,kind', ...list].join('\n')}\n`,
      );
    }
  } finally {
    for (const table of TABLE_NAMES) files[table].close();
  }
  const rows = Object.fromEntries(TABLE_NAMES.map(table => [table, files[table].rows()]));
  return { rows: rows as Record<TableName, number>, infants, planted };
}

/**
 * Writes an invented export: the five tables, `export.yaml`, `datapackage.json`, the scenario in full, `truth.json`
 * (unless the scenario leaves it out) and, with flaws, `planted-problems.csv`. It is written beside its place and
 * renamed, so that a stopped run leaves nothing that looks like an export.
 *
 * @throws FolderTaken if the folder holds anything and is not to be replaced
 */
export function writeExport(scenario: Scenario, folder: string, options: WriteOptions): WrittenExport {
  const there = existsSync(folder);
  if (there && !statSync(folder).isDirectory()) throw new FolderTaken(`${folder} is not a folder`);
  if (there && readdirSync(folder).length > 0 && !options.replace) {
    throw new FolderTaken(`${folder} is not empty; take another folder, or --replace`);
  }
  if (scenario.flaws.eachKind > 0 && options.feet > MOST_FEET_WITH_FLAWS) {
    throw new RangeError(`flaws can be planted in at most ${MOST_FEET_WITH_FLAWS} feet, not ${options.feet}`);
  }
  const parent = dirname(folder);
  mkdirSync(parent, { recursive: true });
  const working = join(parent, `.${basename(folder)}.writing-${process.pid}`);
  rmSync(working, { recursive: true, force: true });
  mkdirSync(working);
  try {
    const written = writeTables(scenario, options, working);
    writeFileSync(join(working, 'export.yaml'), exportDescription(scenario));
    writeFileSync(join(working, 'datapackage.json'), jsonText(dataPackage(DICTIONARY)));
    writeFileSync(join(working, 'scenario.yaml'), scenarioText(scenario));
    if (scenario.truth.infants > 0) {
      writeFileSync(join(working, 'truth.json'), jsonText(truthOf(scenario, options.feet, options.seed)));
    }
    if (there) rmSync(folder, { recursive: true });
    renameSync(working, folder);
    return { folder, ...written };
  } finally {
    rmSync(working, { recursive: true, force: true });
  }
}
