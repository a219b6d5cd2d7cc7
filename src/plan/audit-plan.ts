import * as z from 'zod';

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
    /** A chart is drawn with at least so many quarters that hold enough. */
    chartMinimumQuarters: z.int().min(2).default(4),
    /** Fewer than this and the verdict is: too few to say. */
    minimumToJudge: z.int().min(1).default(10),
    ruleSet: z.enum(['shewhart', 'western-electric', 'nelson']).default('western-electric'),
    /** Quarters in a row on one side of the median that make a shift in a run chart. */
    runChartShift: z.int().min(2).default(8),
    /** Sites and clinicians are compared over so many quarters, up to and with the one reported. */
    funnelQuarters: z.int().min(1).max(40).default(4),
    /** What they are compared with: the share of all of them together, or the target. */
    funnelCentre: z.enum(['overall', 'target']).default('overall'),
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
    noStepDownWhileWorse: z
      .strictObject({
        target: z.number().min(0).max(1).default(0.95),
        /** The step-down is judged by a bisector position recorded on its day or at most so many days before. */
        positionWithinDays: days.default(7),
      })
      .prefault({}),
    closedWithReason: z
      .strictObject({
        target: z.number().min(0).max(1).default(1),
        /** An episode is looked at when so many weeks have passed since first fitting. */
        afterWeeks: z.int().min(1).default(26),
        /** Still open, it must have been seen at most so many weeks before the end of the quarter. */
        seenWithinWeeks: z.int().min(1).default(6),
      })
      .prefault({}),
    /** The share lost to follow-up must stay under this. */
    lostToFollowUp: z.strictObject({ below: z.number().min(0).max(1).default(0.1) }).prefault({}),
  })
  .prefault({});
