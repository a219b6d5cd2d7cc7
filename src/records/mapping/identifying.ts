import { DICTIONARY } from '../dictionary.ts';
import { identifyingHeader } from '../privacy/identifying-header.ts';
import { TABLE_NAMES } from '../records.ts';
import { repeated } from './blocks.ts';
import type { Mapping } from './mapping.ts';
import { MappingError } from './read-mapping.ts';

/**
 * Refuses a mapping that fills a code from a column whose header names persons; other fields cannot hold what
 * identifies one, since their values are numbers, dates and known words.
 *
 * @throws MappingError naming the columns
 */
export function requireCodesOfNoPerson({ tables }: Mapping): void {
  const faults = new Set<string>();
  for (const table of TABLE_NAMES) {
    for (const block of (tables[table] ?? []).flatMap(repeated)) {
      for (const field of DICTIONARY[table].fields) {
        const spec = block.fields?.[field.name];
        if (field.type !== 'code' || spec === undefined || spec.notIdentifying === true) continue;
        for (const column of [spec.column, ...(spec.join ?? [])]) {
          const what = column === undefined ? undefined : identifyingHeader(column);
          if (what === undefined) continue;
          faults.add(
            `mapping: ${table}.${field.name} comes from the column "${column ?? ''}", whose header looks like one of a ${what}; allowed: a pseudonymous code, or notIdentifying: true if it is one`,
          );
        }
      }
    }
  }
  if (faults.size > 0) throw new MappingError([...faults].join('\n'));
}
