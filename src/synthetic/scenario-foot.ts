import * as z from 'zod';
import { byPhase, number, share, yesNo } from './parameter.ts';

/** How stiffness shows in the findings at first fitting. */
export const stiffnessSchema = z
  .strictObject({
    sharedByInfant: share(
      0.6,
      'Share of the variance of latent stiffness that both feet of an infant have in common.',
    ),
    positionMean: number(2, 5, 3.3, 'Latent bisector position of a foot of average stiffness.'),
    positionPerUnit: number(0, 3, 0.74, 'Positions by which a unit of stiffness moves the bisector.'),
    positionSpread: number(0, 2, 0.25, 'Standard deviation of position beyond stiffness.'),
    flexibilityMean: number(
      -2,
      4,
      0.95,
      'Latent inflexibility of a foot of average stiffness: under 1 past straight, 1 to 2 to straight, above 2 short of straight.',
    ),
    flexibilityPerUnit: number(0, 3, 0.72, 'Change of latent inflexibility for a unit of stiffness.'),
    flexibilitySpread: number(0, 2, 0.35, 'Standard deviation of latent inflexibility beyond stiffness.'),
    creaseAtMean: number(-10, 10, -2, 'Log odds of a medial crease at average stiffness.'),
    creasePerUnit: number(
      -5,
      5,
      1,
      'Change of those log odds for a unit of stiffness.',
      'common practice: a crease marks a stiffer foot',
    ),
  })
  .prefault({});

/** How many hours of wear correct a foot. */
export const correctionSchema = z
  .strictObject({
    medianHours: number(
      10,
      20000,
      750,
      'Median hours worn until a foot of average stiffness and age is corrected.',
    ),
    shape: number(
      0.3,
      10,
      3,
      'Shape of the Weibull distribution of hours worn to correction; the hazard an hour worn rises with hours worn where above 1.',
    ),
    logHoursPerStiffness: number(
      -2,
      2,
      0.28,
      'Rise of the logarithm of the hours needed for a unit of stiffness; 0: severity has no effect.',
    ),
    logHoursPerMonthOfAge: number(
      -1,
      1,
      0.02,
      'Rise of the logarithm of the hours needed for a month of age at start.',
      'direction after J Pediatr Orthop 1983;3:2-9; size invented',
    ),
    infantLogSpread: number(
      0,
      2,
      0.15,
      'Standard deviation of the logarithm of hours needed that both feet share, beyond stiffness.',
    ),
  })
  .prefault({});

/** Drift back after a step-down. */
export const relapseSchema = z
  .strictObject({
    dailyHazard: byPhase(
      { fullTime: 0, longOvernight: 0.0016, overnight: 0.0016 },
      0,
      1,
      'Daily hazard that the foot begins to drift back, fully consolidated and fully worn, at average stiffness.',
    ),
    beforeCorrection: yesNo(true, 'A foot stepped down before its correction may drift too.'),
    afterTherapy: number(0, 1, 0.0009, 'The same after therapy has finished.'),
    consolidation: number(
      0.01,
      5,
      0.5,
      'Wear beyond correction, as a share of the hours correction took, after which a foot is consolidated.',
    ),
    perEarliness: number(
      0,
      5,
      1.1,
      'Rise of the log hazard from a consolidated foot to one stepped down on the day of its correction; more before it.',
    ),
    perShortfall: number(
      0,
      10,
      2,
      'Rise of the log hazard from full wear to none of late (a mean whose weights fall by a seventh a day).',
    ),
    perStiffness: number(
      -2,
      2,
      0.3,
      'Rise of the log hazard for a unit of stiffness.',
      'direction after J Pediatr Orthop 1999;19:49; size invented',
    ),
    driftADay: number(0, 1, 0.04, 'Positions by which a drifting foot gets worse in a day.'),
    largestDrift: number(0, 3, 1.3, 'Positions after which the drift stops.'),
    regainADay: number(0, 1, 0.05, 'Positions regained in a day of full time worn in full.'),
  })
  .prefault({});

/** Skin and other events. */
export const skinSchema = z
  .strictObject({
    slightRedness: number(
      0,
      500,
      9,
      'Slight redness, events per 100 foot-weeks of full time, strap fitting well.',
      'common practice: very common; size invented',
    ),
    strongRedness: number(0, 500, 2.5, 'Strong redness, likewise.'),
    blister: number(0, 500, 0.9, 'Blister, likewise.'),
    pressureSore: number(0, 500, 0.2, 'Pressure sore, likewise.'),
    pulledOff: number(0, 500, 3, 'Brace pulled off by the infant, likewise.'),
    unplannedPause: number(0, 500, 1, 'Unplanned pause, likewise.'),
    phaseFactor: byPhase(
      { fullTime: 1, longOvernight: 0.6, overnight: 0.45 },
      0,
      10,
      'Rate in each phase over that in full time.',
    ),
    strapTightShare: share(
      0.15,
      'Chance that the strap is left too tight at a fitting; drawn anew at each checkup at half this chance.',
    ),
    strapFactor: number(
      0,
      50,
      2.6,
      'Rate of redness, blisters and sores with a tight strap over that with a good one.',
    ),
  })
  .prefault({});
