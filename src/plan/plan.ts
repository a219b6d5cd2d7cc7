import * as z from 'zod';
import { auditSchema } from './audit-plan.ts';
import { checksSchema } from './checks-plan.ts';

const fraction = z.number().min(0).max(1);
const wholeDays = z.int().min(0);
const count = z.int().min(0);
const points = z.array(z.number().positive()).min(1);

export const END_REASONS = [
  'finished',
  'referred for casting',
  'referred for surgery',
  'withdrawn',
  'moved away',
  'lost to follow-up',
] as const;

/**
 * The analysis plan: every definition and threshold of the analyses, with its default.
 * The prose for each field stands in docs/definitions.md.
 */
export const planSchema = z.strictObject({
  severity: z
    .strictObject({
      scheme: z.enum(['toe', 'web']).default('toe'),
      rule: z.enum(['worse of', 'bisector alone', 'flexibility alone']).default('worse of'),
      creaseLiftsMild: z.boolean().default(true),
    })
    .prefault({}),
  baseline: z.strictObject({ windowDays: wholeDays.default(14) }).prefault({}),
  feet: z.strictObject({ use: z.enum(['all', 'one per infant']).default('all') }).prefault({}),
  clustering: z.strictObject({ byInfant: z.boolean().default(true) }).prefault({}),
  phases: z
    .strictObject({ hours: z.array(z.number().positive().max(24)).min(1).default([24, 15, 12]) })
    .prefault({}),
  correction: z
    .strictObject({
      bisectorAtMost: z.number().min(2).max(5).default(2.5),
      flexibility: z
        .array(z.enum(['past straight', 'to straight', 'short of straight']))
        .min(1)
        .default(['past straight']),
      confirmedAtNextCheckup: z.boolean().default(false),
      competingEnds: z
        .array(z.enum(END_REASONS))
        .default(['referred for casting', 'referred for surgery', 'withdrawn', 'finished']),
      reportWeeks: points.default([6, 8, 12, 16]),
      restrictedMeanWeeks: z.number().positive().default(16),
      reportHundredHours: points.default([5, 10, 15]),
      resamples: z.int().min(2).max(10_000).default(200),
    })
    .prefault({}),
  relapse: z
    .strictObject({
      bisectorWorseBy: z.number().positive().default(0.5),
      longerHoursCount: z.boolean().default(true),
      weeksAfterTherapy: z.number().positive().default(12),
      lastSeenWithinDays: z.int().nonnegative().default(14),
      nextStepDown: z.enum(['competing', 'censored']).default('competing'),
      reportWeeks: points.default([3, 6, 12]),
      adherenceDays: z.int().positive().default(14),
      adherenceMinimumDays: z.int().positive().default(7),
    })
    .prefault({}),
  adherence: z
    .strictObject({
      sourceOrder: z
        .array(z.enum(['sensor', 'diary', 'recall']))
        .min(1)
        .default(['sensor', 'diary', 'recall']),
      fullTimeHours: z.number().positive().max(24).default(24),
      careHours: z.number().min(0).max(12).default(1),
      breakInDays: wholeDays.default(2),
      coveredAt: fraction.default(0.8),
      weekClasses: points.max(4).default([0.5, 0.8, 0.9, 1]),
      missingDays: z.enum(['missing', 'not worn']).default('missing'),
      laggedDays: z.int().positive().default(7),
      resamples: z.int().min(100).max(10_000).default(1000),
    })
    .prefault({}),
  lapse: z
    .strictObject({
      windowDays: z.int().positive().default(7),
      below: fraction.default(0.8),
      minimumDays: z.int().positive().default(4),
    })
    .prefault({}),
  discontinuation: z.strictObject({ daysNotWorn: z.int().positive().default(7) }).prefault({}),
  duration: z
    .strictObject({
      competingEnds: z
        .array(z.enum(END_REASONS))
        .default(['referred for casting', 'referred for surgery', 'withdrawn']),
      distribution: z.enum(['weibull', 'log-normal', 'log-logistic', 'exponential']).default('weibull'),
      reportWeeks: points.default([12, 16, 20, 26]),
      nextStudy: z
        .strictObject({
          power: z.number().gt(0.5).lt(1).default(0.9),
          hazardRatios: z.array(z.number().positive().lt(1)).min(1).default([0.5, 0.6, 0.7, 0.8]),
        })
        .prefault({}),
    })
    .prefault({}),
  imputation: z
    .strictObject({
      imputations: z.int().min(2).max(200).default(20),
      iterations: z.int().min(1).max(50).default(5),
    })
    .prefault({}),
  occupancy: z
    .strictObject({ weeks: z.int().positive().default(24), returnWeeks: points.default([6, 12, 16]) })
    .prefault({}),
  skin: z
    .strictObject({
      reviewWithinDays: wholeDays.default(7),
      weekBands: points.default([2, 6, 12]),
      reportWeeks: points.default([4, 8, 12, 16]),
    })
    .prefault({}),
  counselling: z
    .strictObject({
      minimumFeet: z.int().positive().default(10),
      ageGroupWeeks: z.array(z.number().positive()).default([13, 26]),
    })
    .prefault({}),
  sensitivity: z.strictObject({ minimumFollowUpWeeks: z.number().min(0).default(6) }).prefault({}),
  audit: auditSchema,
  checks: checksSchema,
  disclosure: z
    .strictObject({
      suppressBelow: z.int().min(0).default(5),
      curveAtRisk: z.int().min(0).default(5),
      clinicianMinimum: z.int().min(0).default(20),
    })
    .prefault({}),
  figures: z
    .strictObject({
      weekTicks: z.array(z.number().min(0)).min(2).default([0, 2, 6, 9, 12, 16]),
      lastWeek: z.number().positive().default(24),
      calendarMinimumFeet: z.int().min(1).default(10),
      courses: z.strictObject({ shown: count.default(30), minimumFeet: count.default(100) }).prefault({}),
      hundredHourTicks: z.array(z.number().min(0)).min(2).default([0, 4, 8, 12, 16, 20]),
    })
    .prefault({}),
  level: z.number().gt(0.5).lt(1).default(0.95),
  seed: z.int().min(0).default(20260101),
});

/** A complete plan: every field has a value. */
export type Plan = z.infer<typeof planSchema>;

export type EndReason = (typeof END_REASONS)[number];

/** The plan with every default. */
export function defaultPlan(): Plan {
  return planSchema.parse({});
}
