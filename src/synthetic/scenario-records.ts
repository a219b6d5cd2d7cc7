import * as z from 'zod';
import { number, share, whole } from './parameter.ts';

/** A site: its size, its case mix and how well it keeps its records. */
export const siteSchema = z.strictObject({
  code: z
    .string()
    .regex(/^[A-Za-z0-9._-]{1,40}$/)
    .meta({ description: 'Code of the site; a place that does not exist.', source: 'invented' }),
  weight: number(0, 1e6, 1, 'Share of infants seen here, against the weights of the other sites.'),
  stiffness: number(-3, 3, 0, 'Case mix: mean stiffness of feet fitted here, in standard deviations.'),
  distance: number(-3, 5, 0, 'Mean distance of families from the clinic, in standard deviations.'),
  clinicians: whole(1, 500, 2, 'Number of clinicians.'),
  teachBack: share(0.85, 'Share of fittings with teach-back recorded as done.'),
  baselinePhoto: share(0.93, 'Share of fittings with a photograph.'),
  reviewInTime: share(0.9, 'Chance that a blister or sore is reviewed within 7 days.'),
  firstCheckupDelay: number(-10, 100, 0, 'Days by which the first checkup takes place later than planned.'),
  secondCheckupDelay: number(-10, 100, 0, 'Days by which the second checkup takes place later than planned.'),
  leftOpen: share(0.03, 'Share of families lost to follow-up whose episodes are never closed.'),
  missingFindings: number(0, 20, 1, 'Factor on the rates of missing findings.'),
});

/** Something that changes over the calendar quarters, for an audit to find. */
export const changeSchema = z.strictObject({
  what: z.enum(['teach-back', 'second checkup delay', 'skin events']).meta({
    description:
      'teach-back adds to a share; second checkup delay adds days; skin events multiplies the rates of redness, blisters and sores.',
    source: 'invented',
  }),
  site: z
    .string()
    .optional()
    .meta({ description: 'Code of the only site touched; left out: every site.', source: 'invented' }),
  fromQuarter: whole(
    0,
    400,
    0,
    'Quarter at which the change begins, 0 being the quarter of the first fitting.',
  ),
  toQuarter: whole(0, 400, 11, 'Last quarter of the change.'),
  atStart: number(-100, 100, 0, 'Size in the first of these quarters.'),
  atEnd: number(-100, 100, 0, 'Size in the last; in a straight line between.'),
  lasts: z
    .boolean()
    .default(true)
    .meta({ description: 'The size reached stays on after the last quarter.', source: 'invented' }),
});
export type Change = z.infer<typeof changeSchema>;

/** Which families keep a wear log, and how true it is. */
export const wearLogSchema = z
  .strictObject({
    sensorShare: share(0.35, 'Share of families with a sensor in the brace.'),
    diaryShare: share(0.4, 'Share of families that keep a diary (drawn apart from the sensor).'),
    recallShare: share(0.08, 'Share of families asked for hours at checkups, for want of sensor and diary.'),
    sensorMissing: share(0.04, 'Share of days without sensor data.'),
    diaryMissing: share(0.14, 'Share of days without a diary line.'),
    diaryExcessHours: number(
      -10,
      10,
      0.55,
      'Hours a day by which a diary exceeds the truth.',
      'Sensors 2022;22:2433',
    ),
    diarySpreadHours: number(
      0,
      10,
      1.25,
      'Standard deviation of that excess.',
      'limits of agreement -2.96 to 1.96 h, Sensors 2022;22:2433',
    ),
    recallExcessHours: number(-10, 10, 1.2, 'Hours a day by which recall exceeds the truth.'),
    recallDaysBefore: whole(1, 60, 7, 'Days before a checkup that are asked about.'),
  })
  .prefault({});

/** Rates of missing values, drawn for each value. */
export const recordingSchema = z
  .strictObject({
    bisectorMissing: share(0.02, 'Bisector position not recorded.'),
    angleMissing: share(0.45, 'Bisector angle not measured.'),
    flexibilityMissing: share(0.025, 'Flexibility not recorded.'),
    creaseMissing: share(0.04, 'Medial crease not recorded.'),
    decisionMissing: share(0.02, 'Decision not recorded.'),
    assessorMissing: share(0.01, 'Assessor not recorded.'),
    sexMissing: share(0.01, 'Sex left blank.'),
    gestationMissing: share(0.15, 'Weeks of gestation left blank.'),
    referralMissing: share(0.06, 'Date of referral left blank.'),
    fittingMissing: share(0.03, 'Teach-back and photograph left blank, each.'),
    eventMissing: share(0.15, 'Hours off and cause of an event left blank, each.'),
    birthDateShare: share(0, 'Share of episodes with a birth date in place of the age.'),
  })
  .prefault({});
