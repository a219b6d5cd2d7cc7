import { clamp, exponential, LN2, logarithm, power } from './arithmetic.ts';
import type { Scenario, Site } from './scenario.ts';
import type { Stream } from './streams.ts';

/** What is true of a foot from the start and never written to the export. */
export interface LatentFoot {
  readonly side: 'left' | 'right';
  /** Standard deviations from the foot of average stiffness. */
  readonly stiffness: number;
  /** Bisector position at first fitting, before rounding to half positions; under 2.75 is read as straight. */
  readonly position: number;
  /** Inflexibility at first fitting: under 1 past straight, 1 to 2 to straight, above 2 short of straight. */
  readonly inflexibility: number;
  readonly crease: boolean;
  /** Share of the way to correction at which the bisector is straight; the larger of the two is 1. */
  readonly positionReached: number;
  readonly flexibilityReached: number;
  /** Hours of wear until correction. */
  readonly hoursNeeded: number;
  /** Multiplier of the scale of hours needed: exp of stiffness, age and infant terms. */
  readonly scale: number;
}

export interface LatentInfant {
  readonly index: number;
  readonly site: Site;
  readonly siteIndex: number;
  readonly clinician: number;
  /** Courage of the clinician in stepping down early, in log odds. */
  readonly boldness: number;
  readonly distance: number;
  /** Adherence of the family, in log odds from the average family. */
  readonly adherence: number;
  readonly sex: 'female' | 'male' | 'not recorded';
  readonly ageAtStart: number;
  readonly gestationalWeeks: number;
  readonly daysFromReferral: number;
  /** Day number of first fitting. */
  readonly start: number;
  readonly feet: readonly LatentFoot[];
}

function drawFoot(
  scenario: Scenario,
  side: 'left' | 'right',
  mean: number,
  shared: number,
  logScale: number,
  random: Stream,
): LatentFoot {
  const s = scenario.stiffness;
  const c = scenario.correction;
  for (;;) {
    const own = Math.sqrt(1 - s.sharedByInfant) * random.normal();
    const stiffness = mean + shared + own;
    const position = clamp(
      s.positionMean + s.positionPerUnit * stiffness + s.positionSpread * random.normal(),
      2.05,
      5.2,
    );
    const inflexibility =
      s.flexibilityMean + s.flexibilityPerUnit * stiffness + s.flexibilitySpread * random.normal();
    const straight = position < 2.75 && inflexibility < 1;
    if (straight && !random.chance(scenario.cohort.straightFitted)) {
      // A shared stiffness far below average would be rejected for ever; it gives way a little each time.
      shared += 0.15;
      continue;
    }
    const creaseOdds = exponential(s.creaseAtMean + s.creasePerUnit * stiffness);
    const scale = exponential(logScale + c.logHoursPerStiffness * stiffness);
    // Weibull with median `medianHours` times the scale.
    const draw = power(-logarithm(random.uniform()) / LN2, 1 / c.shape);
    const earlier = 0.5 + 0.5 * random.uniform();
    const flexibilityLast = inflexibility >= 1 && (position < 2.75 || random.chance(0.25));
    return {
      side,
      stiffness,
      position,
      inflexibility,
      crease: random.chance(creaseOdds / (1 + creaseOdds)),
      positionReached: flexibilityLast ? earlier : 1,
      flexibilityReached: flexibilityLast ? 1 : earlier,
      hoursNeeded: straight ? 1 : c.medianHours * scale * draw,
      scale,
    };
  }
}

/**
 * The infant of a given index: everything about it and its feet that holds before therapy begins.
 * @param footCount 1 or 2 feet.
 * @param start Day number of first fitting.
 */
export function drawInfant(
  scenario: Scenario,
  index: number,
  footCount: number,
  start: number,
  random: Stream,
): LatentInfant {
  const siteIndex = random.pick(scenario.sites.map(site => site.weight));
  const site = scenario.sites[siteIndex];
  if (!site) throw new RangeError('a scenario needs at least one site');
  const { cohort, correction, stiffness } = scenario;
  const ageAtStart = clamp(
    Math.floor(cohort.ageMedianDays * exponential(cohort.ageLogSpread * random.normal()) + 0.5),
    10,
    600,
  );
  const clinician = random.whole(0, site.clinicians - 1);
  const shared = Math.sqrt(stiffness.sharedByInfant) * random.normal();
  const logScale =
    correction.infantLogSpread * random.normal() +
    correction.logHoursPerMonthOfAge * ((ageAtStart - cohort.ageMedianDays) / 30.4375);
  const leftFirst = random.chance(0.54);
  const sides: ('left' | 'right')[] = footCount === 2 ? ['left', 'right'] : leftFirst ? ['left'] : ['right'];
  const sexDraw = random.uniform();
  return {
    index,
    site,
    siteIndex,
    clinician,
    // Spread evenly over the clinicians of a site, from cautious to bold.
    boldness:
      site.clinicians > 1
        ? scenario.therapist.variation * ((2.4 * clinician) / (site.clinicians - 1) - 1.2)
        : 0,
    distance: site.distance + random.normal(),
    adherence: scenario.adherence.familySpread * random.normal(),
    sex: sexDraw < 0.465 ? 'female' : sexDraw < 0.995 ? 'male' : 'not recorded',
    ageAtStart,
    gestationalWeeks: clamp(Math.floor(39.2 + 1.8 * random.normal() + 0.5), 25, 42),
    daysFromReferral: Math.min(random.whole(5, 45), ageAtStart - 2),
    start,
    feet: sides.map(side => drawFoot(scenario, side, site.stiffness, shared, logScale, random)),
  };
}
