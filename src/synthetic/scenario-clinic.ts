import * as z from 'zod';
import { byPhase, number, share, whole, yesNo } from './parameter.ts';

/** How families keep to the hours. */
export const adherenceSchema = z
  .strictObject({
    logOdds: byPhase(
      { fullTime: 2.15, longOvernight: 2.4, overnight: 2.5 },
      -10,
      10,
      'Log odds of the share of expected hours that an average family wears outside lapses.',
      'level after J Pediatr Orthop 2015;35:185 (92, 87, 77 % over three months), as an order of size',
    ),
    familySpread: number(0, 5, 0.65, 'Standard deviation between families, in log odds.'),
    daySpread: number(0, 1, 0.06, 'Standard deviation from day to day, as a share of expected hours.'),
    lapseChance: number(0, 1, 0.006, 'Chance a day that an average family lapses.'),
    lapsePerFamily: number(
      0,
      5,
      0.6,
      'How much sooner less adherent families lapse (log rate for a log odds).',
    ),
    lapseMeanDays: number(1, 200, 7, 'Mean length of a lapse; then the family resumes.'),
    lapseDepth: share(0.45, 'Share of usual wear that is kept up in a lapse.'),
    fullStopShare: share(0.12, 'Share of lapses in which the brace is not worn at all.'),
  })
  .prefault({});

/** When infants are seen. */
export const visitsSchema = z
  .strictObject({
    firstDay: whole(1, 100, 14, 'Planned day of the first checkup.', 'common practice'),
    secondDay: whole(2, 200, 42, 'Planned day of the second checkup.', 'common practice'),
    laterFullTimeDays: whole(
      1,
      100,
      14,
      'Days between later full-time checkups.',
      'common practice: full time lasts 6 to 8 weeks',
    ),
    stepDays: whole(
      1,
      100,
      21,
      'Days between checkups on 15 and 12 hours, and after a return to full time.',
      'common practice',
    ),
    jitterDays: number(0, 20, 2, 'Standard deviation of the day a checkup takes place.'),
    missedShare: share(
      0.06,
      'Chance that a checkup at average distance is missed and made up 7 to 14 days later.',
    ),
    missedPerDistance: number(
      0,
      3,
      0.4,
      'Rise of the log chance of a missed checkup for a unit of distance.',
    ),
    secondAssessorShare: share(
      0.08,
      'Share of visits at which a second assessor examines the foot on the same day.',
    ),
    followUpShare: share(
      0.85,
      'Chance that a finished foot comes to each of two follow-up assessments, 6 and 12 weeks after therapy.',
    ),
  })
  .prefault({});

/** How findings are read. */
export const findingsSchema = z
  .strictObject({
    positionError: number(
      0,
      2,
      0.07,
      'Standard deviation of the reading of the latent bisector position by the treating clinician.',
    ),
    flexibilityError: number(
      0,
      2,
      0.1,
      'Standard deviation of the reading of latent inflexibility, likewise.',
    ),
    secondAssessorFactor: number(
      0,
      20,
      2.5,
      'Factor on both for a second assessor, who does not know the foot.',
    ),
    correctionReadExactly: yesNo(
      true,
      'The treating clinician never takes a corrected foot for an uncorrected one or the reverse, so that what an estimate misses is owed to the visits alone.',
    ),
    angleAtStraight: number(-30, 60, 2, 'Mean bisector angle in degrees at position 2.'),
    anglePerPosition: number(0, 30, 7.5, 'Degrees for each further position.'),
    angleError: number(0, 20, 1.8, 'Standard deviation of the angle.'),
  })
  .prefault({});

/** When therapists step down, return and finish. */
export const therapistSchema = z
  .strictObject({
    rule: z.enum(['progress seen', 'time alone']).default('progress seen').meta({
      description: 'What a step down from full time waits for: the findings, or the days alone.',
      source: 'common practice (progress seen)',
    }),
    minimumFullTimeDays: whole(
      1,
      200,
      38,
      'Days of full time before a step down by rule.',
      'common practice: 6 to 8 weeks, less a week for appointments',
    ),
    minimumStepDays: whole(
      1,
      200,
      16,
      'Days on 15 or 12 hours before the next step.',
      'common practice: 3 to 4 weeks, less appointments',
    ),
    followsRule: share(0.92, 'Chance that the therapist does what the rule says.'),
    earlyStepDown: share(
      0.06,
      'Chance at a checkup that a foot at position 3 or less is stepped down before its time.',
    ),
    impatientAfterDays: whole(
      1,
      1000,
      75,
      'Days of full time after which a therapist may step down without the progress wanted.',
    ),
    impatience: share(0.3, 'Chance of that at each checkup.'),
    variation: number(
      0,
      3,
      0.5,
      'Standard deviation between therapists of the log odds of stepping down early.',
    ),
    returnsToFullTime: share(
      0.85,
      'Chance that a foot seen to be worse is put back to full time.',
      'common practice',
    ),
    stepDownWhileWorse: share(
      0.03,
      'Chance that a step down is made though the bisector is worse than at the last checkup.',
    ),
    longestDays: whole(
      30,
      1500,
      200,
      'Days of therapy after which a foot not corrected may be finished all the same.',
    ),
  })
  .prefault({});

/** Who is referred on. */
export const referralSchema = z
  .strictObject({
    fromDay: whole(1, 500, 42, 'First day on which a foot not corrected may be referred.'),
    stillSevere: share(
      0.5,
      'Chance at a checkup that a foot still at position 4 or more, or short of straight, is referred.',
    ),
    stillModerate: share(0.045, 'The same for a foot at 3.5, or that comes only to straight.'),
    stillMild: share(0.002, 'The same for any other foot not corrected.'),
    surgeryShare: share(0.15, 'Share of referrals of infants over nine months that are for surgery.'),
  })
  .prefault({});

/** Why families leave. */
export const leavingSchema = z
  .strictObject({
    withdrawnADay: number(0, 1, 0.00031, 'Daily hazard of withdrawal of a family that wears in full.'),
    withdrawnPerShortfall: number(
      0,
      10,
      2,
      'Rise of its logarithm from full wear to none of late (a mean whose weights fall by a seventh a day).',
    ),
    movedADay: number(0, 1, 0.00018, 'Daily hazard of moving away.'),
    lostADay: number(
      0,
      1,
      0.00034,
      'Daily hazard of loss to follow-up at average distance and half-way progress.',
    ),
    lostPerDistance: number(-3, 3, 0.4, 'Rise of its logarithm for a unit of distance.'),
    lostPerProgress: number(
      -10,
      10,
      0,
      'Rise of its logarithm from no progress to correction as seen by the family; not 0: informative drop-out.',
    ),
  })
  .prefault({});
