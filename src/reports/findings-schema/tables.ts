import * as z from 'zod';

const KINDS = [
  'count',
  'proportion',
  'rate',
  'time',
  'ratio',
  'difference',
  'correlation',
  'number',
] as const;

const cell = z.union([
  z.string(),
  z.number(),
  z.null(),
  z.strictObject({
    estimate: z.number(),
    lower: z.number().optional(),
    upper: z.number().optional(),
    kind: z.enum(KINDS).optional(),
  }),
  z.strictObject({ count: z.number(), of: z.number() }),
  z.strictObject({ median: z.number(), lowerQuartile: z.number(), upperQuartile: z.number() }),
]);

export const findingTable = z
  .strictObject({
    key: z.string(),
    title: z.string(),
    columns: z.array(
      z.strictObject({
        key: z.string(),
        label: z.string(),
        unit: z.string().optional(),
        kind: z.enum([
          'text',
          'count',
          'proportion',
          'percent of n',
          'rate',
          'time',
          'ratio',
          'number',
          'p-value',
          'mixed',
        ]),
      }),
    ),
    rows: z
      .array(z.record(z.string(), cell))
      .describe('Cells by the key of the column: text, number, estimate, share or median; absent if empty.'),
    notes: z.array(z.string()),
  })
  .describe('A table of a report.');
