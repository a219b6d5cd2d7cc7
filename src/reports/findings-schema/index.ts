import * as z from 'zod';
import { planSchema } from '../../plan/plan.ts';
import { TABLE_NAMES } from '../../records/records.ts';
import { count } from './count.ts';
import { finding } from './finding.ts';

const provenance = z.strictObject({
  software: z.string(),
  version: z.string(),
  service: z.string().optional(),
  cutOff: z.int().describe('Last day of data, days since 1970-01-01.'),
  cutOffGiven: z.boolean().describe('Given with the export, or else the latest date in it.'),
  exportedAt: z.string().optional(),
  files: z
    .array(
      z.strictObject({
        file: z.string(),
        read: count,
        accepted: count,
        refused: count,
        sha256: z.string(),
        extraColumns: z.array(z.string()),
      }),
    )
    .length(TABLE_NAMES.length),
  problems: z.array(
    z.strictObject({
      file: z.string(),
      kind: z.string(),
      severity: z.enum(['refused', 'warning']),
      count,
    }),
  ),
  planSha256: z.string(),
  mappingSha256: z
    .string()
    .optional()
    .describe('Of the mapping file that the export was read through, if there was one.'),
  sources: z
    .array(z.strictObject({ file: z.string(), sha256: z.string() }))
    .optional()
    .describe(
      'Files behind the tables where a table is not simply the file of its name; corrected rows and their lists too.',
    ),
});

const flowLine = z.strictObject({
  key: z.string(),
  label: z.string(),
  depth: z.int().min(0),
  feet: count,
  infants: count.optional().describe('Absent where only rows can be counted.'),
});

const document = z
  .strictObject({
    version: z.literal(1),
    provenance: provenance.describe('Where the numbers come from.'),
    plan: planSchema.describe('The plan that was used, in full.'),
    flow: z.array(flowLine).describe('Participant flow.'),
    findings: z.array(finding),
  })
  .describe('All that a report says, as data. It holds no code of an episode or an infant.');

/** The JSON Schema (draft 2020-12) of `findings.json`. */
export function findingsSchema(): Readonly<Record<string, unknown>> {
  return { title: 'Findings', ...z.toJSONSchema(document, { io: 'output' }) };
}
