import * as z from 'zod';

const days = z.int().min(1);

/** When a row that can be used looks odd enough for a warning; nothing is refused by these. */
export const checksSchema = z
  .strictObject({
    /** Positions of the bisector between two examinations so many days apart or fewer. */
    bisectorJump: z
      .strictObject({ positions: z.number().positive().default(2), withinDays: days.default(7) })
      .prefault({}),
    /** Hours worn over those prescribed for the day. */
    hoursOverPrescribed: z.number().positive().max(24).default(6),
    /** Both feet of an infant alike in at least so many examinations, or days of a sensor. */
    sameInBothFeet: z
      .strictObject({ assessments: z.int().min(2).default(5), sensorDays: z.int().min(2).default(14) })
      .prefault({}),
    /** Days from one checkup to the next within therapy. */
    checkupInterval: z
      .strictObject({ shortestDays: z.int().min(0).default(3), longestDays: days.default(70) })
      .prefault({}),
    /** Hours that are whole more often than their resolution explains. */
    digitPreference: z
      .strictObject({
        minimumRows: z.int().min(10).default(100),
        excessShare: z.number().gt(0).max(1).default(0.2),
        pValueBelow: z.number().gt(0).max(0.05).default(0.001),
      })
      .prefault({}),
  })
  .prefault({});
