import { z } from 'zod';

const days = z.int().min(0);

function share(target: number) {
  return z.strictObject({ target: z.number().min(0).max(1).default(target) }).prefault({});
}

function timely(target: number, dueDay: number, withinDays: number) {
  return z
    .strictObject({
      target: z.number().min(0).max(1).default(target),
      dueDay: days.default(dueDay),
      withinDays: days.default(withinDays),
    })
    .prefault({});
}

/** The audit standards, each with its own target: a share of feet (or events) that must meet it. */
export const auditSchema = z
  .strictObject({
    /** Month (1 to 12) in which the first quarter of the year starts: 1 for calendar years. */
    firstMonthOfYear: z.int().min(1).max(12).default(1),
    quartersShown: z.int().min(2).max(40).default(12),
    /** Fewer than this and the verdict is: too few to say. */
    minimumToJudge: z.int().min(1).default(10),
    ruleSet: z.enum(['shewhart', 'western-electric', 'nelson']).default('western-electric'),
    baselinePhoto: share(0.95),
    baselineFindings: share(0.95),
    teachBack: share(0.95),
    firstCheckup: timely(0.9, 14, 3),
    secondCheckup: timely(0.9, 42, 7),
    checkupAt15Hours: timely(0.9, 21, 5),
    checkupAt12Hours: timely(0.9, 21, 5),
    skinReview: z
      .strictObject({ target: z.number().min(0).max(1).default(1), withinDays: days.default(7) })
      .prefault({}),
    noStepDownWhileWorse: share(0.95),
    closedWithReason: share(1),
    /** The share lost to follow-up must stay under this. */
    lostToFollowUp: z.strictObject({ below: z.number().min(0).max(1).default(0.1) }).prefault({}),
  })
  .prefault({});
