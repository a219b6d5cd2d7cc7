import { exponential } from './arithmetic.ts';
import { type Findings, readsCorrected } from './findings.ts';
import type { Scenario } from './scenario.ts';
import type { Stream } from './streams.ts';

export type Decision = 'start' | 'continue' | 'step down' | 'return to full time' | 'finish' | 'refer';

/** What the therapist has in hand at a checkup of one foot. */
export interface Situation {
  /** Day since first fitting. */
  readonly day: number;
  readonly prescribedHours: number;
  readonly daysInPhase: number;
  /** The foot was put back to full time before. */
  readonly returned: boolean;
  readonly baseline: Findings;
  readonly last: Findings;
  /** Position seen at the last step-down. */
  readonly reference: number;
  readonly seen: Findings;
}

/**
 * The decision at a checkup, by rule with variation: refer a foot that does not come along; put back to full time
 * one that slips; step down one that has made its way (or, by a bold therapist, one that has not).
 */
export function decide(scenario: Scenario, boldness: number, now: Situation, random: Stream): Decision {
  const { therapist, referral } = scenario;
  const { seen } = now;
  const corrected = readsCorrected(seen);
  // Drawn whatever the branch, so that one foot's course does not shift the draws of the other's.
  const refers = random.uniform();
  const follows = random.chance(therapist.followsRule);
  const early = random.uniform();
  const returns = random.chance(therapist.returnsToFullTime);
  const despite = random.chance(therapist.stepDownWhileWorse);

  if (!corrected && now.day >= referral.fromDay) {
    const severe = seen.position >= 4 || seen.flexibility === 'short of straight';
    const moderate = seen.position >= 3.5 || seen.flexibility === 'to straight';
    const chance = severe ? referral.stillSevere : moderate ? referral.stillModerate : referral.stillMild;
    if (refers < chance) return 'refer';
  }
  const timeAlone = therapist.rule === 'time alone';
  const worse = seen.position > now.last.position;
  if (now.prescribedHours >= 20) {
    if (worse && !despite) return 'continue';
    const minimum = now.returned ? therapist.minimumStepDays : therapist.minimumFullTimeDays;
    const ready =
      timeAlone ||
      corrected ||
      (seen.position <= 3 && seen.flexibility !== 'short of straight') ||
      now.baseline.position - seen.position >= 1.5;
    if (now.daysInPhase >= minimum && ready) return follows ? 'step down' : 'continue';
    if (now.daysInPhase >= therapist.impatientAfterDays && early < therapist.impatience) return 'step down';
    const boldChance = therapist.earlyStepDown * exponential(boldness);
    const allowed = timeAlone || seen.position <= 3;
    return allowed && early < boldChance ? 'step down' : 'continue';
  }
  if (seen.position >= now.reference + 0.5) return returns ? 'return to full time' : 'continue';
  if (worse && !despite) return 'continue';
  if (now.daysInPhase < therapist.minimumStepDays) return 'continue';
  if (now.prescribedHours > 12) {
    const ready = timeAlone || corrected || seen.position <= 3;
    return ready && follows ? 'step down' : 'continue';
  }
  if (corrected) return follows ? 'finish' : 'continue';
  if (now.day >= therapist.longestDays && early < 0.5) return 'finish';
  return 'continue';
}
