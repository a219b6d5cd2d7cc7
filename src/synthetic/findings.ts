import { clamp } from './arithmetic.ts';
import { correctedNow, type FootState, inflexibilityNow, positionNow } from './foot-state.ts';
import type { LatentFoot } from './infant.ts';
import type { Scenario } from './scenario.ts';
import type { Stream } from './streams.ts';

export type Flexibility = 'past straight' | 'to straight' | 'short of straight';

/** What an assessor reads off a foot. */
export interface Findings {
  readonly position: number;
  readonly angle: number;
  readonly flexibility: Flexibility;
  readonly crease: boolean;
}

function flexibilityOf(inflexibility: number): Flexibility {
  return inflexibility < 1 ? 'past straight' : inflexibility < 2 ? 'to straight' : 'short of straight';
}

/** Correction as the findings show it. */
export function readsCorrected(findings: Findings): boolean {
  return findings.position <= 2.5 && findings.flexibility === 'past straight';
}

/**
 * An examination: latent values read with error, the position to half a toe.
 * @param treating The treating clinician reads, with less error and, where the scenario has it so, never taking a
 * corrected foot for an uncorrected one or the reverse.
 */
export function examine(
  scenario: Scenario,
  foot: LatentFoot,
  state: FootState,
  treating: boolean,
  random: Stream,
): Findings {
  const { angleAtStraight, anglePerPosition, angleError, correctionReadExactly } = scenario.findings;
  const factor = treating ? 1 : scenario.findings.secondAssessorFactor;
  const positionError = factor * scenario.findings.positionError;
  const flexibilityError = factor * scenario.findings.flexibilityError;
  const truePosition = positionNow(foot, state);
  const trueInflexibility = inflexibilityNow(foot, state);
  const half = (x: number) => clamp(Math.floor(2 * x + 0.5) / 2, 2, 5);
  let position = half(truePosition + positionError * random.normal());
  let flexibility = flexibilityOf(trueInflexibility + flexibilityError * random.normal());
  if (treating && correctionReadExactly) {
    const corrected = correctedNow(foot, state);
    if (corrected) {
      position = Math.min(position, 2.5);
      flexibility = 'past straight';
    } else if (readsCorrected({ position, angle: 0, flexibility, crease: false })) {
      if (truePosition >= 2.75) position = 3;
      else flexibility = 'to straight';
    }
  }
  const angle = angleAtStraight + anglePerPosition * (truePosition - 2) + angleError * random.normal();
  return {
    position,
    angle: clamp(Math.floor(angle + 0.5), -30, 60),
    flexibility,
    // The crease fades once the foot is well on its way.
    crease: foot.crease && state.progress < 0.9 + 0.3 * random.uniform(),
  };
}
