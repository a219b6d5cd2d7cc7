import * as z from 'zod';

/** A count that disclosure control may have hidden. */
export const count = z
  .union([z.int().min(0), z.literal('withheld'), z.string().regex(/^fewer than \d+$/)])
  .meta({ id: 'count' })
  .describe(
    'A whole number, or the name of what stands in its place: "fewer than 5" where it is small, "withheld" where a small one would follow from it.',
  );
