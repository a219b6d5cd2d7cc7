import { z } from 'zod';
import { byPhase, date, number, share, whole, words, yesNo } from './parameter.ts';
import { changeSchema, recordingSchema, siteSchema, wearLogSchema } from './scenario-records.ts';
import { flawsSchema } from './scenario-flaws.ts';

/**
 * A scenario: every parameter of the generator, each with its meaning and the source of its default (`invented`
 * where there is none). `scenario.yaml` may leave out whatever should keep its default.
 */
export const scenarioSchema = z.strictObject({
  name: words('ordinary clinic', 'Name of the scenario.'),
  description: words('An ordinary clinic network over twelve quarters.', 'What the scenario is for, in a sentence.'),
  service: words('Tarnholm Forefoot Network (invented)', 'Name of the invented service, for export.yaml.'),
  cohort: z
    .strictObject({
      feet: whole(1, 10_000_000, 240, 'Number of feet, unless the command line gives another.'),
      start: date('2023-01-02', 'First day on which a brace may be fitted.'),
      recruitmentDays: whole(1, 20000, 1090, 'Days over which first fittings are spread evenly.'),
      cutOffDaysAfter: whole(2, 2000, 5, 'Days from the end of recruitment to the data cut-off.'),
      bilateralShare: share(0.4, 'Share of infants with both feet treated.', 'common practice: about half have both feet affected'),
      straightFitted: share(0.07, 'Chance that a foot already straight and flexible is fitted all the same; other such feet are not fitted and drawn anew.'),
      ageMedianDays: number(10, 1000, 110, 'Median age at first fitting.'),
      ageLogSpread: number(0, 2, 0.5, 'Standard deviation of the logarithm of age.'),
    })
    .prefault({}),
  sites: z.array(siteSchema).min(1).max(50).prefault([
    { code: 'tarnholm', weight: 5, stiffness: 0, distance: 0, clinicians: 3 },
    { code: 'kestrel-quay', weight: 3, stiffness: 0.35, distance: 0.3, clinicians: 2 },
    { code: 'ombermoor', weight: 2, stiffness: -0.25, distance: 0.9, clinicians: 2 },
  ]),
  stiffness: z
    .strictObject({
      sharedByInfant: share(0.6, 'Share of the variance of latent stiffness that both feet of an infant have in common.'),
      positionMean: number(2, 5, 3.3, 'Latent bisector position of a foot of average stiffness.'),
      positionPerUnit: number(0, 3, 0.74, 'Positions by which a unit of stiffness moves the bisector.'),
      positionSpread: number(0, 2, 0.25, 'Standard deviation of position beyond stiffness.'),
      flexibilityMean: number(-2, 4, 0.95, 'Latent inflexibility of a foot of average stiffness: under 1 past straight, 1 to 2 to straight, above 2 short of straight.'),
      flexibilityPerUnit: number(0, 3, 0.72, 'Change of latent inflexibility for a unit of stiffness.'),
      flexibilitySpread: number(0, 2, 0.35, 'Standard deviation of latent inflexibility beyond stiffness.'),
      creaseAtMean: number(-10, 10, -2, 'Log odds of a medial crease at average stiffness.'),
      creasePerUnit: number(-5, 5, 1, 'Change of those log odds for a unit of stiffness.', 'common practice: a crease marks a stiffer foot'),
    })
    .prefault({}),
  correction: z
    .strictObject({
      medianHours: number(10, 20000, 750, 'Median hours worn until a foot of average stiffness and age is corrected.'),
      shape: number(0.3, 10, 3, 'Shape of the Weibull distribution of hours worn to correction; the hazard an hour worn rises with hours worn where above 1.'),
      logHoursPerStiffness: number(-2, 2, 0.28, 'Rise of the logarithm of the hours needed for a unit of stiffness; 0: severity has no effect.'),
      logHoursPerMonthOfAge: number(-1, 1, 0.02, 'Rise of the logarithm of the hours needed for a month of age at start.', 'direction after J Pediatr Orthop 1983;3:2-9; size invented'),
      infantLogSpread: number(0, 2, 0.15, 'Standard deviation of the logarithm of hours needed that both feet share, beyond stiffness.'),
    })
    .prefault({}),
  adherence: z
    .strictObject({
      logOdds: byPhase({ fullTime: 2.15, longOvernight: 2.4, overnight: 2.5 }, -10, 10, 'Log odds of the share of expected hours that an average family wears outside lapses.', 'level after J Pediatr Orthop 2015;35:185 (92, 87, 77 % over three months), as an order of size'),
      familySpread: number(0, 5, 0.65, 'Standard deviation between families, in log odds.'),
      daySpread: number(0, 1, 0.06, 'Standard deviation from day to day, as a share of expected hours.'),
      lapseChance: number(0, 1, 0.006, 'Chance a day that an average family lapses.'),
      lapsePerFamily: number(0, 5, 0.6, 'How much sooner less adherent families lapse (log rate for a log odds).'),
      lapseMeanDays: number(1, 200, 7, 'Mean length of a lapse; then the family resumes.'),
      lapseDepth: share(0.45, 'Share of usual wear that is kept up in a lapse.'),
      fullStopShare: share(0.12, 'Share of lapses in which the brace is not worn at all.'),
    })
    .prefault({}),
  visits: z
    .strictObject({
      firstDay: whole(1, 100, 14, 'Planned day of the first checkup.', 'common practice'),
      secondDay: whole(2, 200, 42, 'Planned day of the second checkup.', 'common practice'),
      laterFullTimeDays: whole(1, 100, 14, 'Days between later full-time checkups.', 'common practice: full time lasts 6 to 8 weeks'),
      stepDays: whole(1, 100, 21, 'Days between checkups on 15 and 12 hours, and after a return to full time.', 'common practice'),
      jitterDays: number(0, 20, 2, 'Standard deviation of the day a checkup takes place.'),
      missedShare: share(0.06, 'Chance that a checkup at average distance is missed and made up 7 to 14 days later.'),
      missedPerDistance: number(0, 3, 0.4, 'Rise of the log chance of a missed checkup for a unit of distance.'),
      secondAssessorShare: share(0.08, 'Share of visits at which a second assessor examines the foot on the same day.'),
      followUpShare: share(0.85, 'Chance that a finished foot comes to each of two follow-up assessments, 6 and 12 weeks after therapy.'),
    })
    .prefault({}),
  findings: z
    .strictObject({
      positionError: number(0, 2, 0.07, 'Standard deviation of the reading of the latent bisector position by the treating clinician.'),
      flexibilityError: number(0, 2, 0.1, 'Standard deviation of the reading of latent inflexibility, likewise.'),
      secondAssessorFactor: number(0, 20, 2.5, 'Factor on both for a second assessor, who does not know the foot.'),
      correctionReadExactly: yesNo(true, 'The treating clinician never takes a corrected foot for an uncorrected one or the reverse, so that what an estimate misses is owed to the visits alone.'),
      angleAtStraight: number(-30, 60, 2, 'Mean bisector angle in degrees at position 2.'),
      anglePerPosition: number(0, 30, 7.5, 'Degrees for each further position.'),
      angleError: number(0, 20, 1.8, 'Standard deviation of the angle.'),
    })
    .prefault({}),
  therapist: z
    .strictObject({
      rule: z.enum(['progress seen', 'time alone']).default('progress seen').meta({ description: 'What a step down from full time waits for: the findings, or the days alone.', source: 'common practice (progress seen)' }),
      minimumFullTimeDays: whole(1, 200, 38, 'Days of full time before a step down by rule.', 'common practice: 6 to 8 weeks, less a week for appointments'),
      minimumStepDays: whole(1, 200, 16, 'Days on 15 or 12 hours before the next step.', 'common practice: 3 to 4 weeks, less appointments'),
      followsRule: share(0.92, 'Chance that the therapist does what the rule says.'),
      earlyStepDown: share(0.06, 'Chance at a checkup that a foot at position 3 or less is stepped down before its time.'),
      impatientAfterDays: whole(1, 1000, 75, 'Days of full time after which a therapist may step down without the progress wanted.'),
      impatience: share(0.3, 'Chance of that at each checkup.'),
      variation: number(0, 3, 0.5, 'Standard deviation between therapists of the log odds of stepping down early.'),
      returnsToFullTime: share(0.85, 'Chance that a foot seen to be worse is put back to full time.', 'common practice'),
      stepDownWhileWorse: share(0.03, 'Chance that a step down is made though the bisector is worse than at the last checkup.'),
      longestDays: whole(30, 1500, 200, 'Days of therapy after which a foot not corrected may be finished all the same.'),
    })
    .prefault({}),
  referral: z
    .strictObject({
      fromDay: whole(1, 500, 49, 'First day on which a foot not corrected may be referred.'),
      stillSevere: share(0.3, 'Chance at a checkup that a foot still at position 4 or more, or short of straight, is referred.'),
      stillModerate: share(0.02, 'The same for a foot at 3.5, or that comes only to straight.'),
      stillMild: share(0.002, 'The same for any other foot not corrected.'),
      surgeryShare: share(0.15, 'Share of referrals of infants over nine months that are for surgery.'),
    })
    .prefault({}),
  relapse: z
    .strictObject({
      dailyHazard: byPhase({ fullTime: 0, longOvernight: 0.0016, overnight: 0.0016 }, 0, 1, 'Daily hazard that the foot begins to drift back, fully consolidated and fully worn, at average stiffness.'),
      afterTherapy: number(0, 1, 0.0009, 'The same after therapy has finished.'),
      consolidation: number(0.01, 5, 0.5, 'Wear beyond correction, as a share of the hours correction took, after which a foot is consolidated.'),
      perEarliness: number(0, 5, 1.1, 'Rise of the log hazard from a consolidated foot to one stepped down on the day of its correction; more before it.'),
      perShortfall: number(0, 10, 2, 'Rise of the log hazard from full wear to none of late (a mean whose weights fall by a seventh a day).'),
      perStiffness: number(-2, 2, 0.3, 'Rise of the log hazard for a unit of stiffness.', 'direction after J Pediatr Orthop 1999;19:49; size invented'),
      driftADay: number(0, 1, 0.04, 'Positions by which a drifting foot gets worse in a day.'),
      largestDrift: number(0, 3, 1.3, 'Positions after which the drift stops.'),
      regainADay: number(0, 1, 0.05, 'Positions regained in a day of full time worn in full.'),
    })
    .prefault({}),
  leaving: z
    .strictObject({
      withdrawnADay: number(0, 1, 0.00031, 'Daily hazard of withdrawal of a family that wears in full.'),
      withdrawnPerShortfall: number(0, 10, 2, 'Rise of its logarithm from full wear to none of late (a mean whose weights fall by a seventh a day).'),
      movedADay: number(0, 1, 0.00018, 'Daily hazard of moving away.'),
      lostADay: number(0, 1, 0.00034, 'Daily hazard of loss to follow-up at average distance and half-way progress.'),
      lostPerDistance: number(-3, 3, 0.4, 'Rise of its logarithm for a unit of distance.'),
      lostPerProgress: number(-10, 10, 0, 'Rise of its logarithm from no progress to correction as seen by the family; not 0: informative drop-out.'),
    })
    .prefault({}),
  skin: z
    .strictObject({
      slightRedness: number(0, 500, 9, 'Slight redness, events per 100 foot-weeks of full time, strap fitting well.', 'common practice: very common; size invented'),
      strongRedness: number(0, 500, 2.5, 'Strong redness, likewise.'),
      blister: number(0, 500, 0.9, 'Blister, likewise.'),
      pressureSore: number(0, 500, 0.2, 'Pressure sore, likewise.'),
      pulledOff: number(0, 500, 3, 'Brace pulled off by the infant, likewise.'),
      unplannedPause: number(0, 500, 1, 'Unplanned pause, likewise.'),
      phaseFactor: byPhase({ fullTime: 1, longOvernight: 0.6, overnight: 0.45 }, 0, 10, 'Rate in each phase over that in full time.'),
      strapTightShare: share(0.15, 'Chance that the strap is left too tight at a fitting; drawn anew at each checkup at half this chance.'),
      strapFactor: number(0, 50, 2.6, 'Rate of redness, blisters and sores with a tight strap over that with a good one.'),
    })
    .prefault({}),
  changes: z.array(changeSchema).prefault([]).meta({ description: 'Changes over the calendar quarters.', source: 'invented' }),
  wearLog: wearLogSchema,
  recording: recordingSchema,
  flaws: flawsSchema,
  truth: z
    .strictObject({
      infants: whole(0, 1_000_000, 20_000, 'Infants simulated without loss to follow-up for truth.json; 0 leaves the large simulation out.'),
      weeks: whole(1, 104, 30, 'Weeks covered by the curves of truth.json.'),
    })
    .prefault({}),
});

export type Scenario = z.infer<typeof scenarioSchema>;
export type Site = Scenario['sites'][number];
