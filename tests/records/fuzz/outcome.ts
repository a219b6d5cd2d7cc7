import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import { draftFolder } from '../../../src/records/files/draft-folder.ts';
import { checkedJson, checkedText } from '../../../src/cli/checked.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { MappingError } from '../../../src/records/mapping/read-mapping.ts';
import type { Mapping } from '../../../src/records/mapping/mapping.ts';
import type { Problem } from '../../../src/records/records.ts';
import { TABLE_NAMES } from '../../../src/records/records.ts';
import { UnusableExport } from '../../../src/records/unusable-export.ts';

export type Outcome = 'clean' | 'problems' | 'unusable';

/** What must not be in a message: control characters, and markup that a report would have to escape. */
const UNCLEAN = /[\p{Cc}\u2028\u2029]|<script|<img/u;

/**
 * Reads a folder and says how it ended; if asked for, a mapping is drafted from it as well.
 *
 * @throws Error for any end that is none of the three, for rows that do not add up, and for files that were changed
 */
export async function outcomeOf(
  folder: string,
  files: Readonly<Record<string, Buffer>>,
  mapping: Mapping | undefined,
  drafts = true,
): Promise<Outcome> {
  const outcome = await read(folder, mapping);
  if (drafts) await draft(folder);
  const there = readdirSync(folder).sort();
  if (there.join('\n') !== Object.keys(files).sort().join('\n'))
    throw new Error(`left behind: ${there.join()}`);
  for (const [name, bytes] of Object.entries(files)) {
    if (!readFileSync(join(folder, name)).equals(bytes)) throw new Error(`${name} was changed`);
  }
  return outcome;
}

async function read(folder: string, mapping: Mapping | undefined): Promise<Outcome> {
  try {
    const records = await readExport(folder, mapping === undefined ? {} : { mapping });
    for (const name of TABLE_NAMES) {
      const { read, accepted, refused } = records.counts[name];
      if (read !== accepted + refused || accepted !== records.tables[name].numRows()) {
        throw new Error(`${name}: ${read} is not ${accepted} and ${refused}`);
      }
      if (refused > 0 && records.problems.length === 0)
        throw new Error(`${name}: refused for no reason given`);
    }
    records.problems.forEach(requireClear);
    if (checkedText(records, 100) === '' || checkedJson(records) === '') throw new Error('nothing to print');
    return records.problems.length === 0 ? 'clean' : 'problems';
  } catch (error) {
    if (error instanceof MappingError) return 'unusable';
    if (!(error instanceof UnusableExport)) throw error;
    if (error.problems.length === 0) throw new Error('unusable for no reason given', { cause: error });
    error.problems.forEach(requireClear);
    return 'unusable';
  }
}

/** A draft is made of whatever there is, says what it is unsure of, and is YAML. */
async function draft(folder: string): Promise<void> {
  try {
    const { text, unsettled, notes } = await draftFolder(folder);
    parse(text, { schema: 'core', maxAliasCount: 0 });
    for (const said of [...notes, ...unsettled.flatMap(({ where, question }) => [where, question])]) {
      if (/[\p{Cc}\u2028\u2029]/u.test(said)) throw new Error(`unclean note ${JSON.stringify(said)}`);
      if (said.length > LONGEST_NOTE) throw new Error(`a note of ${said.length} characters`);
    }
  } catch (error) {
    if (!(error instanceof UnusableExport)) throw error;
    error.problems.forEach(requireClear);
  }
}

const LONGEST_NOTE = 10_000;
const LONGEST_MESSAGE = 1000;

function requireClear({ message, kind }: Problem): void {
  if (UNCLEAN.test(message)) throw new Error(`${kind}: unclean message ${JSON.stringify(message)}`);
  if (message.length > LONGEST_MESSAGE) throw new Error(`${kind}: a message of ${message.length} characters`);
}
