import type { Field } from '../../dictionary/field.ts';
import type { TableName } from '../../records.ts';
import { draftDates } from './draft-dates.ts';
import { draftNumbers } from './draft-numbers.ts';
import type { Question } from './draft-source.ts';
import { draftWords } from './draft-words.ts';

/** A field of a table, the column that it stands in, and the distinct texts of that. */
export interface FieldColumn {
  readonly table: TableName;
  readonly field: Field;
  readonly column: string;
  readonly values: ReadonlyMap<string, number>;
  /** What the mapping says of the field beside the column, where that is known already. */
  readonly given?: Readonly<Record<string, unknown>>;
}

export interface DraftedField {
  readonly table: TableName;
  readonly field: Field;
  readonly column: string;
  readonly spec: string | Readonly<Record<string, unknown>>;
}

/** How the values of one file are written, and what its words mean. */
export function draftFields(
  source: string,
  entries: readonly FieldColumn[],
): {
  readonly fields: readonly DraftedField[];
  readonly writing: Readonly<Record<string, unknown>>;
  readonly unsettled: readonly Question[];
  readonly notes: string[];
} {
  const open = entries.filter(({ given }) => given === undefined);
  const dates = draftDates(
    source,
    open.filter(({ field }) => field.type === 'date'),
  );
  const numbers = draftNumbers(
    source,
    open.filter(({ field }) => field.type === 'number' || field.type === 'integer'),
  );
  const unsettled: Question[] = [...dates.unsettled, ...numbers.unsettled];
  const fields = entries.map(({ table, field, column, values, given }): DraftedField => {
    if (given !== undefined) return { table, field, column, spec: given };
    const ofWords = field.type === 'category' || field.type === 'yes/no';
    const drafted = ofWords ? draftWords(`${source}.${column}`, field, values) : { words: {}, unsettled: [] };
    unsettled.push(...drafted.unsettled);
    const missing = dates.missing.get(column) ?? numbers.missing.get(column) ?? [];
    const unit = numbers.units.get(column);
    const spec = {
      column,
      ...(Object.keys(drafted.words).length === 0 ? {} : { words: drafted.words }),
      ...(missing.length === 0 ? {} : { missing }),
      ...(unit === undefined ? {} : { unit }),
    };
    return { table, field, column, spec: Object.keys(spec).length === 1 ? column : spec };
  });
  return {
    fields,
    writing: { ...dates.writing, ...numbers.writing },
    unsettled,
    notes: [...dates.notes, ...numbers.notes],
  };
}
