import * as z from 'zod';
import { count } from './count.ts';

const interval = z.strictObject({ estimate: z.number(), lower: z.number(), upper: z.number() });
const limits = z.strictObject({ lower: z.number(), upper: z.number() });
const side = z.enum(['above', 'below']);
const signal = z.strictObject({ place: z.int(), rule: z.string(), side: side.optional() });
const direction = z.enum(['at least', 'under']);

const standard = z.strictObject({
  key: z.string(),
  title: z.string(),
  direction,
  target: z.number(),
  count,
  n: count,
  infants: count,
  share: interval.optional(),
  verdict: z.enum(['met', 'not met', 'too few to say']),
  change: interval.optional(),
});

const quarterChart = z.strictObject({
  key: z.string(),
  title: z.string(),
  kind: z.enum(['proportion', 'rate']),
  unit: z.string(),
  quarters: z.array(z.string()),
  points: z.array(
    z.strictObject({
      place: z.int(),
      count,
      size: z.number(),
      value: z.number(),
      lower: z.number(),
      upper: z.number(),
    }),
  ),
  centre: z.number(),
  target: z.number().optional(),
  ruleSet: z.string(),
  signals: z.array(signal),
  median: z.number(),
  shift: z.number(),
  shifts: z.array(signal),
});

const funnel = z.strictObject({
  key: z.string(),
  title: z.string(),
  direction,
  centre: z.number(),
  centreIs: z.enum(['overall', 'target']),
  units: z.array(
    z.strictObject({
      kind: z.enum(['site', 'clinician']),
      code: z.string(),
      site: z
        .string()
        .optional()
        .describe('Of a clinician all of whose feet are at one site; not where small numbers are hidden.'),
      count,
      n: count,
      value: z.number(),
      inner: limits,
      outer: limits,
      beyond: z.strictObject({ limit: z.enum(['95 %', '99.8 %']), side }).optional(),
    }),
  ),
  limits: z.array(z.strictObject({ n: z.number(), inner: limits, outer: limits })),
  dispersion: z.strictObject({ site: z.number().optional(), clinician: z.number().optional() }),
});

/** The parts that only findings of the audit have. */
export const auditParts = {
  standards: z.array(standard).optional().describe('Audit standards against their targets.'),
  quarterCharts: z.array(quarterChart).optional().describe('Control charts over quarters.'),
  funnels: z.array(funnel).optional().describe('Sites and clinicians side by side.'),
};
