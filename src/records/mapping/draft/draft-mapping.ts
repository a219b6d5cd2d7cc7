import { stringify } from 'yaml';
import { withoutControls } from '../../problems/problem.ts';
import type { TableName } from '../../records.ts';
import { TABLE_NAMES } from '../../records.ts';
import type { DraftedSource, Question } from './draft-source.ts';

/** A source of a draft: where it is read from, and what was made of it. */
export interface DraftPart {
  readonly name: string;
  /** As in `sources` of a mapping. */
  readonly spec: Readonly<Record<string, unknown>>;
  /** What was drafted; for a FHIR file the tables that it holds. */
  readonly drafted: DraftedSource | readonly TableName[];
  readonly unsettled: readonly Question[];
}

export interface Draft {
  readonly text: string;
  readonly unsettled: readonly Question[];
  readonly notes: readonly string[];
  /** Files that were gone through, or sheets of them. */
  readonly files: readonly string[];
}

const HEAD = `# Drafted by inspecting the files. Check every line. Nothing is read through this mapping until each question under
# "unsettled" is answered where it says, and taken off the list.
`;

/** The draft of a mapping in YAML. */
export function draftMapping(parts: readonly DraftPart[]): Draft {
  const sources: Record<string, unknown> = {};
  const tables: Partial<Record<TableName, unknown[]>> = {};
  const unsettled: Question[] = [];
  const notes: string[] = [];
  const add = (table: TableName, block: unknown): void => void (tables[table] ??= []).push(block);
  for (const { name, spec, drafted, unsettled: questions } of parts) {
    unsettled.push(...questions.map(readable));
    if (isTables(drafted)) {
      sources[name] = spec;
      for (const table of drafted) add(table, { from: name });
      continue;
    }
    unsettled.push(...drafted.unsettled.map(readable));
    notes.push(...drafted.notes.map(shortened));
    if (drafted.blocks.length === 0) continue;
    sources[name] = { ...spec, ...drafted.writing };
    for (const { table, block } of drafted.blocks) add(table, { from: name, ...block });
  }
  if (tables.episodes === undefined) {
    unsettled.push({ where: 'tables', question: 'which file holds the episodes' });
  }
  const inOrder = Object.fromEntries(
    TABLE_NAMES.flatMap(name => (tables[name] ? [[name, tables[name]]] : [])),
  );
  const document = { version: 1, unsettled, notes, sources, tables: inOrder };
  return {
    text: `${HEAD}${stringify(document, { lineWidth: 0, aliasDuplicateObjects: false })}`,
    unsettled,
    notes,
    files: parts.map(part => part.name),
  };
}

/** Headers come from files that anyone may have written. */
const readable = ({ where, question }: Question): Question => ({
  where: shortened(where),
  question: shortened(question),
});

const LONGEST_NOTE = 1500;

function shortened(text: string): string {
  const clear = withoutControls(text.slice(0, LONGEST_NOTE));
  return text.length > LONGEST_NOTE ? `${clear}…` : clear;
}

function isTables(drafted: DraftPart['drafted']): drafted is readonly TableName[] {
  return Array.isArray(drafted);
}
