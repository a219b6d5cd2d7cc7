import * as z from 'zod';
import { count } from './count.ts';

const week = z.int().min(0);

export const courseSample = z
  .strictObject({
    states: z.array(z.string()),
    courses: z.array(
      z.strictObject({
        stretches: z.array(z.strictObject({ state: z.string(), from: week, to: week })),
        end: z.enum(['finished', 'left', 'in therapy']),
        corrected: week.optional(),
        relapses: z.array(week),
      }),
    ),
    n: count,
    infants: count,
  })
  .describe('Courses of a few feet in whole weeks; only where the plan publishes small numbers.');
