import type { ProbabilityInterval } from '../probability-interval.ts';
import type { FollowUp } from './follow-up.ts';
import type { RiskSets } from './risk-sets.ts';

/** Which variance a standard error comes from. */
export type SurvivalVariance = 'greenwood' | 'infinitesimal-jackknife';

/** A Kaplan-Meier curve: one entry for each distinct observed time, in ascending order. */
export interface SurvivalCurve {
  readonly time: readonly number[];
  /** At risk just before the time (sum of weights). */
  readonly atRisk: readonly number[];
  readonly events: readonly number[];
  readonly censored: readonly number[];
  /** Survival just after the time. */
  readonly survival: readonly number[];
  /** Of the survival; undefined where the variance has no value. */
  readonly standardError: readonly (number | undefined)[];
  readonly lower: readonly (number | undefined)[];
  readonly upper: readonly (number | undefined)[];
  /** Number of rows. */
  readonly n: number;
  readonly level: number;
  readonly interval: ProbabilityInterval;
  readonly variance: SurvivalVariance;
}

/** The rows a curve was made from. */
export interface CurveSource {
  readonly rows: FollowUp;
  readonly sets: RiskSets;
}

// A curve is plain data; what its clustered restricted mean and its risk sets under late entry need besides
// is kept
// out of the way here, and goes when the curve goes.
const sources = new WeakMap<SurvivalCurve, CurveSource>();

export function rememberSource(curve: SurvivalCurve, source: CurveSource): void {
  sources.set(curve, source);
}

export function sourceOf(curve: SurvivalCurve): CurveSource | undefined {
  return sources.get(curve);
}
