import * as z from 'zod';
import { auditParts } from './audit-parts.ts';
import { count } from './count.ts';
import { courseSample } from './courses.ts';
import { curve, meanCountCurve, occupancyShares, plot } from './curves.ts';
import { findingTable } from './tables.ts';

const period = z
  .strictObject({ name: z.string(), firstDay: z.int(), lastDay: z.int() })
  .describe('The stretch of time a finding is about; days since 1970-01-01, both included.');

const measure = z
  .strictObject({
    key: z.string().describe('Unique within the finding, such as median.severe.'),
    label: z.string(),
    group: z.string().optional().describe('The group it belongs to (a band, a step), if any.'),
    kind: z.enum(['count', 'proportion', 'rate', 'time', 'ratio', 'difference', 'correlation', 'number']),
    unit: z
      .string()
      .describe('weeks, per 100 foot-weeks, feet; proportions are fractions with the unit "of 1".'),
    estimate: z.number().optional(),
    lower: z.number().optional().describe('Lower limit of the interval at the level of the plan.'),
    upper: z.number().optional().describe('Upper limit of the interval at the level of the plan.'),
    state: z
      .string()
      .optional()
      .describe('Why there is no estimate or limit: not reached, too few, no data.'),
    n: count.optional().describe('Feet (or step-downs) the number rests on.'),
    infants: count.optional(),
    events: count.optional(),
  })
  .describe('A number that a reader may quote, or the named reason why there is none.');

const test = z.strictObject({
  key: z.string(),
  label: z.string(),
  method: z.string().describe('The method in words.'),
  statistic: z.number().optional(),
  degreesOfFreedom: z.number().optional(),
  pValue: z.number().min(0).max(1).optional(),
  state: z.string().optional().describe('Why there is no result.'),
});

const effect = z
  .strictObject({
    key: z.string(),
    panel: z.string().describe('The model or comparison that the line belongs to.'),
    label: z.string(),
    kind: z.enum(['ratio', 'difference']),
    estimate: z.number().optional(),
    lower: z.number().optional(),
    upper: z.number().optional(),
    reference: z.string().describe('What it is compared with, or the unit of a number.'),
    state: z.string().optional(),
    n: count.optional(),
    events: count.optional(),
  })
  .describe('One line of a forest: a ratio or difference with its interval.');

/** The answer to one question, as it stands in `findings.json`. */
export const finding = z.strictObject({
  key: z.string().describe('The question, such as time-to-correction.'),
  version: z.literal(1),
  question: z.string(),
  statement: z.string().describe('The answer in one or two sentences.'),
  period: period.optional(),
  population: z.strictObject({
    feet: count,
    infants: count,
    leftOut: z
      .array(z.strictObject({ reason: z.string(), feet: count, infants: count }))
      .describe('Feet that the question could not use, and why.'),
  }),
  measures: z.array(measure),
  curves: z.array(curve),
  tests: z.array(test),
  effects: z.array(effect).optional(),
  meanCounts: z.array(meanCountCurve).optional(),
  occupancy: z.array(occupancyShares).optional(),
  courses: courseSample.optional(),
  plots: z.array(plot).optional(),
  ...auditParts,
  tables: z.array(findingTable),
  methods: z
    .array(z.strictObject({ text: z.string(), cites: z.array(z.string()) }))
    .describe('What was done, each with the keys of the works cited.'),
  cautions: z.array(z.string()).describe('What limits the answer.'),
});
