import { clamp } from './arithmetic.ts';
import type { LatentFoot } from './infant.ts';

/** The foot as it is today, changed day by day. */
export interface FootState {
  /** Hours worn over hours needed: 1 is correction, more consolidates it. */
  progress: number;
  /** Positions lost since the foot began to drift. */
  drift: number;
  drifting: boolean;
}

const STRAIGHT_POSITION = 2.75;
const PAST_STRAIGHT = 1;
/** How far within the line a foot stands on the day of its correction. */
const MARGIN = 0.02;

/** Latent bisector position: falls in a straight line to the border of straight, then a little beyond. */
export function positionNow(foot: LatentFoot, state: FootState): number {
  if (foot.position < STRAIGHT_POSITION) return foot.position + state.drift;
  const way = state.progress / foot.positionReached;
  const undrifted =
    way < 1
      ? foot.position - (foot.position - STRAIGHT_POSITION) * way
      : STRAIGHT_POSITION - MARGIN - Math.min(0.28, 1.2 * (way - 1));
  return undrifted + state.drift;
}

/** Latent inflexibility, by the same course; four fifths of a drift in position show in it. */
export function inflexibilityNow(foot: LatentFoot, state: FootState): number {
  if (foot.inflexibility < PAST_STRAIGHT) return foot.inflexibility + 0.8 * state.drift;
  const way = state.progress / foot.flexibilityReached;
  const undrifted =
    way < 1
      ? foot.inflexibility - (foot.inflexibility - PAST_STRAIGHT) * way
      : PAST_STRAIGHT - MARGIN - Math.min(0.5, way - 1);
  return undrifted + 0.8 * state.drift;
}

/** Whether the foot is truly corrected today: straight bisector and flexibility past straight. */
export function correctedNow(foot: LatentFoot, state: FootState): boolean {
  return positionNow(foot, state) < STRAIGHT_POSITION && inflexibilityNow(foot, state) < PAST_STRAIGHT;
}

/** How early a step-down was: 0 consolidated, 1 on the day of correction, up to 1.6 before it. */
export function earliness(progress: number, consolidation: number): number {
  return clamp(1 - (progress - 1) / consolidation, 0, 1.6);
}
