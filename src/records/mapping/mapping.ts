import * as z from 'zod';
import { DICTIONARY } from '../dictionary.ts';
import type { TableName } from '../records.ts';

export const DATE_ORDERS = ['year-month-day', 'day-month-year', 'month-day-year'] as const;
export type DateOrder = (typeof DATE_ORDERS)[number];

export const UNITS = [
  'weeks to days',
  'days to weeks',
  'weeks+days to weeks',
  'minutes to hours',
  'hours:minutes to hours',
] as const;
export type Unit = (typeof UNITS)[number];

const text = z.union([z.string(), z.number(), z.boolean()]).transform(String);

/** How the values of a file, or of the whole export, are written. */
const writing = {
  dates: z.enum(DATE_ORDERS).optional(),
  decimal: z.enum(['point', 'comma']).optional(),
  /** Texts that stand for a missing value. */
  missing: z.array(text).optional(),
};

const fullFieldSchema = z
  .strictObject({
    column: z.string().optional(),
    /** Columns put together, with a text between them; a row in which any of them is blank has a blank. */
    join: z.array(z.string()).min(2).optional(),
    with: z.string().optional(),
    /** The same in every row. */
    value: text.optional(),
    /** A part of a column that holds several things, the first being 1. */
    part: z.int().min(1).optional(),
    by: z.string().min(1).optional(),
    words: z.record(z.string(), text).optional(),
    ...writing,
    unit: z.enum(UNITS).optional(),
    /** Put after the text of the column, if that is not blank. */
    suffix: z.string().min(1).optional(),
    /** Days added to a date, for exports that count days; one number, or `n - 1`. */
    plusDays: text.optional(),
    /** The column may be read although its header looks as if it named persons. */
    notIdentifying: z.literal(true).optional(),
  })
  .refine(spec => [spec.column, spec.join, spec.value].filter(given => given !== undefined).length === 1, {
    message: 'exactly one of column, join and value',
  })
  .refine(spec => (spec.part === undefined) === (spec.by === undefined), { message: 'part and by together' });

/** Where a field comes from, and how its values are turned into those of the dictionary. */
export type FieldSpec = z.infer<typeof fullFieldSchema>;

const fieldSchema = z.union([z.string().transform((column): FieldSpec => ({ column })), fullFieldSchema]);

/** Values listed, or whole numbers from one to another as in `1..12`. */
const repeatSchema = z.union([
  z.array(text).min(1),
  z
    .string()
    .regex(/^\d{1,4}\.\.\d{1,4}$/)
    .transform(range => {
      const [first = 0, last = 0] = range.split('..').map(Number);
      return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => String(first + i));
    }),
]);

function fieldsOf(table: TableName) {
  const names = DICTIONARY[table].fields.map(field => field.name);
  return z.strictObject(Object.fromEntries(names.map(name => [name, fieldSchema.optional()])));
}

function tableSchema(table: TableName) {
  return z
    .array(
      z.strictObject({
        /** Name of a source. */
        from: z.string(),
        /** One block for each combination; `{name}` in a text stands for the value. */
        repeat: z.record(z.string().regex(/^[a-z]\w*$/i), repeatSchema).optional(),
        /** Only rows in which these columns hold one of these texts. */
        where: z.array(z.strictObject({ column: z.string(), is: z.array(text).min(1) })).optional(),
        /** No row where all of these columns are blank. */
        unlessBlank: z.array(z.string()).min(1).optional(),
        /** Rows that come out alike are one. */
        distinct: z.boolean().optional(),
        /** Left out: every field from a column of its own name. */
        fields: fieldsOf(table).optional(),
      }),
    )
    .min(1)
    .optional();
}

const sourceSchema = z.strictObject({
  /** Name of a file in the export folder. */
  file: z
    .string()
    .regex(/^[^/\\\0]+$/)
    .refine(name => name !== '.' && name !== '..'),
  format: z.enum(['csv', 'xlsx', 'fhir']).optional(),
  sheet: z.string().optional(),
  encoding: z.enum(['utf-8', 'utf-16', 'windows-1252']).optional(),
  delimiter: z.string().length(1).optional(),
  /** Line (of a sheet: row) with the names of the columns; what stands above it is passed over. */
  header: z.int().min(1).max(1000).optional(),
  /** Columns known not to be needed, even though they may identify a person. */
  ignore: z.array(z.string()).optional(),
  ...writing,
});

export type SourceSpec = z.infer<typeof sourceSchema>;

/** How the files of a clinic become the tables of the dictionary. */
export const mappingSchema = z.strictObject({
  version: z.literal(1),
  description: z
    .strictObject({
      service: z.string().optional(),
      cut_off: z.string().optional(),
      exported_at: z.string().optional(),
    })
    .optional(),
  values: z.strictObject(writing).optional(),
  sources: z.record(z.string(), sourceSchema),
  tables: z.strictObject({
    episodes: tableSchema('episodes'),
    assessments: tableSchema('assessments'),
    phases: tableSchema('phases'),
    wear: tableSchema('wear'),
    events: tableSchema('events'),
  }),
  /** Questions that a draft left open; nothing is read until the list is empty or gone. */
  unsettled: z.array(z.strictObject({ where: z.string(), question: z.string() })).optional(),
  /** What a draft found out, for the reader. */
  notes: z.array(z.string()).optional(),
});

/** A mapping as it was read; the hash is that of the text it was read from. */
export type Mapping = z.infer<typeof mappingSchema> & { readonly sha256?: string };
export type Block = NonNullable<Mapping['tables']['episodes']>[number];
