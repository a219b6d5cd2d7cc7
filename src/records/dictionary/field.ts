import type { TableName } from '../records.ts';

/** A word that a category may hold. */
export interface Category {
  readonly value: string;
  /** What the word means, where it does not speak for itself. */
  readonly label?: string;
}

interface FieldBase {
  readonly name: string;
  readonly meaning: string;
  readonly unit?: string;
  /** Blank is refused. */
  readonly required: boolean;
  /** When it must be filled in, for a field that is not always required. */
  readonly neededWhen?: string;
  /** May identify a person: its values are hidden in problems. */
  readonly personal?: true;
  /** Read to work out another field, then dropped. */
  readonly dropped?: true;
  /** Always known after reading, though it may be blank in the file. */
  readonly reckoned?: true;
}

/** A pseudonymous code. */
export interface CodeField extends FieldBase {
  readonly type: 'code';
  /** Named in reports: what looks like the number of a person is no code of it. */
  readonly published?: true;
}

/** A calendar date, as `YYYY-MM-DD`. */
export interface DateField extends FieldBase {
  readonly type: 'date';
}

/** A number within a range; `values` if only some of it are allowed. */
export interface NumberField extends FieldBase {
  readonly type: 'integer' | 'number';
  readonly minimum: number;
  readonly maximum: number;
  /** The minimum itself is not allowed. */
  readonly aboveMinimum?: true;
  readonly values?: readonly number[];
}

export interface YesNoField extends FieldBase {
  readonly type: 'yes/no';
}

/** One of some words. */
export interface CategoryField extends FieldBase {
  readonly type: 'category';
  readonly categories: readonly Category[];
  /** The categories stand in order, the mildest first. */
  readonly ordered?: true;
}

export type Field = CodeField | DateField | NumberField | YesNoField | CategoryField;

/** Values of `fields` stand as values of `fields` in another table. */
export interface ForeignKey {
  readonly fields: readonly string[];
  readonly table: TableName;
  readonly reference: readonly string[];
}

export interface Table {
  readonly name: TableName;
  readonly file: string;
  /** What one row is. */
  readonly row: string;
  /** Name of the type of a row in the code. */
  readonly rowType: string;
  /** Fields that tell one row from every other; a blank counts as a value of its own. */
  readonly key: readonly string[];
  readonly foreignKeys: readonly ForeignKey[];
  readonly fields: readonly Field[];
}

/** What a code is made of. */
export const CODE_PATTERN = '[A-Za-z0-9._-]{1,40}';

/** Dates outside are taken for slips of the keyboard. */
export const FIRST_DATE = '1990-01-01';
export const LAST_DATE = '2099-12-31';

/** Categories that need no label. */
export function words(...values: readonly string[]): readonly Category[] {
  return values.map(value => ({ value }));
}

export const TO_EPISODES: ForeignKey = {
  fields: ['episode_id'],
  table: 'episodes',
  reference: ['episode_id'],
};

export const EPISODE_ID: CodeField = {
  name: 'episode_id',
  type: 'code',
  required: true,
  meaning: 'Episode the row belongs to.',
};
