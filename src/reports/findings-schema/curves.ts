import * as z from 'zod';
import { count } from './count.ts';

const numbers = z.array(z.number());
const counts = z.array(count);
/** JSON has no undefined: a limit that is not known is null. */
const limits = z.array(z.number().nullable()).describe('null where the limit is not known.');

export const curve = z
  .strictObject({
    key: z.string(),
    group: z.string(),
    measure: z.string().describe('The phrase for the axis.'),
    direction: z.enum(['climbs', 'falls']).describe('From 0 upwards, or from 1 downwards.'),
    timeUnit: z.enum(['weeks', 'hundred hours']),
    time: numbers,
    estimate: numbers,
    lower: limits,
    upper: limits,
    riskTable: z
      .strictObject({
        time: numbers,
        atRisk: counts,
        events: counts,
        censored: counts,
        competing: counts,
      })
      .describe('At risk just before each tick, and what became of the others before it.'),
    n: count,
    infants: count,
    quotable: numbers
      .optional()
      .describe(
        'Where steps were joined so that no small number shows: ticks at which the curve stands where the estimate does. Left out: at all times.',
      ),
  })
  .describe('A step curve with pointwise limits; arrays of one length.');

export const meanCountCurve = z
  .strictObject({
    key: z.string(),
    group: z.string(),
    measure: z.string(),
    timeUnit: z.literal('weeks'),
    time: numbers,
    mean: numbers,
    standardError: numbers,
    lower: limits,
    upper: limits,
    atRisk: counts,
    n: count,
    infants: count,
    events: count,
  })
  .describe('The mean number of events a foot by time.');

export const occupancyShares = z
  .strictObject({
    key: z.string(),
    group: z.string(),
    states: z.array(z.string()),
    week: numbers,
    share: z.array(numbers).describe('By state, then week; shares of a week add up to 1.'),
    standardError: z.array(numbers),
    lower: z.array(limits),
    upper: z.array(limits),
    inTherapy: counts,
    n: count,
    infants: count,
  })
  .describe('The shares of feet in each state by week.');

const axis = z.strictObject({ label: z.string(), unit: z.string().optional() });

export const plot = z
  .strictObject({
    key: z.string(),
    title: z.string(),
    x: axis,
    y: axis,
    series: z.array(
      z.strictObject({
        key: z.string(),
        label: z.string(),
        group: z.string().optional(),
        shape: z.enum(['points', 'line', 'steps']),
        curve: z.string().optional().describe('Key of the curve of the finding that it shows again.'),
        x: numbers,
        y: numbers,
        lower: limits.optional(),
        upper: limits.optional(),
        feet: numbers.optional(),
      }),
    ),
    references: z.array(
      z.discriminatedUnion('kind', [
        z.strictObject({ kind: z.literal('diagonal') }),
        z.strictObject({ kind: z.literal('level'), y: z.number(), label: z.string() }),
      ]),
    ),
    reading: z.string().describe('How to read it.'),
    n: count,
    infants: count,
  })
  .describe('Data of a drawing that checks a model.');
