import { z } from 'zod';

const curve = z.array(z.number());

/** What the teaching layer reads of a `truth.json`; the file holds more. */
const knownTruthSchema = z.object({
  version: z.literal(1),
  scenario: z.string(),
  feetInExport: z.number(),
  correction: z.object({
    bands: z.array(z.object({ band: z.string(), seenIncidence: curve, trueIncidence: curve })),
  }),
  relapse: z.array(
    z.object({ step: z.string(), weeks: z.array(z.number()), driftBegun: curve, relapseSeen: curve }),
  ),
  occupancy: z.array(z.object({ state: z.string(), share: curve })),
  durations: z.object({
    bands: z.array(
      z.object({ band: z.string(), finishedIncidence: curve, medianWeeks: z.number().optional() }),
    ),
  }),
  audit: z.object({
    quarters: z.array(
      z.object({ quarter: z.string(), teachBack: z.number(), baselinePhotograph: z.number() }),
    ),
    sites: z.array(
      z.object({
        site: z.string(),
        teachBack: z.number(),
        baselinePhotograph: z.number(),
        reviewInTime: z.number(),
        firstCheckupDelay: z.number(),
        secondCheckupDelay: z.number(),
      }),
    ),
    changes: z.array(
      z.object({
        what: z.enum(['teach-back', 'second checkup delay', 'skin events']),
        site: z.string().optional(),
        fromQuarter: z.number(),
        toQuarter: z.number(),
        atStart: z.number(),
        atEnd: z.number(),
        lasts: z.boolean(),
      }),
    ),
  }),
  adherence: z.object({ withoutLapse: curve, withoutDiscontinuation: curve }),
  skinPer100FootWeeks: z.array(
    z.object({
      prescribedHours: z.number(),
      footWeeks: z.number(),
      rates: z.record(z.string(), z.number()),
    }),
  ),
});

/** What is known to be true of a simulated export. */
export type KnownTruth = z.infer<typeof knownTruthSchema>;

/**
 * The truth of a simulated export from the text of its `truth.json`.
 *
 * @throws RangeError if the text is no such file, naming the first place that differs
 */
export function knownTruth(text: string): KnownTruth {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    throw new RangeError('it is not JSON', { cause: error });
  }
  const result = knownTruthSchema.safeParse(value);
  if (result.success) return result.data;
  const [issue] = result.error.issues;
  throw new RangeError(`${issue?.path.join('.') ?? ''}: ${issue?.message ?? 'not as expected'}`);
}
